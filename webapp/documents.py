"""Reads a document from a file, JSON or YAML, into plain JSON values. What cannot be read is refused with a sentence."""
import json
import sys
from pathlib import Path

import yaml

LARGEST_BYTES = 2_000_000
DEEPEST = 50


class NoDocument(ValueError):
    """A file is no document; the text says what is wrong and where."""


class _PlainYaml(yaml.SafeLoader):
    """YAML of plain values: no dates, no aliases (a few lines of them can stand for gigabytes), no key twice."""

    def compose_node(self, parent, index):
        if self.check_event(yaml.AliasEvent):
            mark = self.peek_event().start_mark
            raise NoDocument("Line %d repeats an earlier part by *name. Write it out." % (mark.line + 1))
        return super().compose_node(parent, index)

    def construct_mapping(self, node, deep=False):
        mapping = super().construct_mapping(node, deep)
        if len(mapping) != len(node.value):
            raise NoDocument("A name is there twice in the part that begins in line %d." % (node.start_mark.line + 1))
        return mapping


_PlainYaml.yaml_implicit_resolvers = {
    letter: [(tag, pattern) for tag, pattern in resolvers if tag != "tag:yaml.org,2002:timestamp"]
    for letter, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def _no_name_twice(pairs):
    out = dict(pairs)
    if len(out) != len(pairs):
        names = [name for name, _ in pairs]
        raise NoDocument("The name \"%s\" is there twice in one part." % next(n for n in names if names.count(n) > 1))
    return out


def read_text(name):
    """The text of a file; "-" is standard input. Raises NoDocument."""
    try:
        with (sys.stdin.buffer if name == "-" else Path(name).open("rb")) as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise NoDocument("%s cannot be read: %s. Name another file." % (name, error.strerror)) from error
    return text_of(raw, name)


def text_of(raw, name):
    """The text of a file's bytes, LARGEST_BYTES and one at the most of them. Raises NoDocument."""
    if len(raw) > LARGEST_BYTES:
        raise NoDocument("%s is larger than %d MB: it is nothing that is taken in here." % (name, LARGEST_BYTES // 1_000_000))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise NoDocument("%s is not UTF-8 text. Save it as UTF-8." % name) from error


def depth(values):
    """How many lists and groups lie within one another."""
    deepest, stack = 0, [(values, 0)]
    while stack:
        thing, level = stack.pop()
        if isinstance(thing, (dict, list)):
            deepest = max(deepest, level + 1)
            stack += [(part, level + 1) for part in (thing.values() if isinstance(thing, dict) else thing)]
    return deepest


def parse(text, is_yaml):
    """JSON values of a JSON or YAML text; numbers that are no numbers pass, the check names them. Raises NoDocument."""
    try:
        if is_yaml:
            values = yaml.load(text, Loader=_PlainYaml)
        else:
            values = json.loads(text, object_pairs_hook=_no_name_twice)
        if depth(values) > DEEPEST:
            raise RecursionError
        # once through JSON: names become texts, and a value or a letter that no JSON text can hold is found
        again = json.dumps(values, ensure_ascii=False)
        again.encode("utf-8")
        return json.loads(again)
    except NoDocument:
        raise
    except json.JSONDecodeError as error:
        raise NoDocument("Line %d, column %d is not JSON: %s." % (error.lineno, error.colno, error.msg)) from error
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise NoDocument("Line %d is not YAML: %s." % (line, error.problem)) from error
    except RecursionError as error:
        raise NoDocument("It is nested too deeply for a system document.") from error
    except (yaml.YAMLError, TypeError, ValueError) as error:
        raise NoDocument("It holds a value that a document cannot: %s." % str(error).splitlines()[0]) from error


def read_document(name, kind):
    """The document in a file, "-" for standard input; YAML where the name or the text says so. Raises NoDocument, also for one that says
    of itself that it is of another kind than "system" or "readings"; whatever else is wrong with it, the check of that kind finds."""
    text, called = read_text(name), "Standard input" if name == "-" else name
    if not text.strip():
        raise NoDocument("%s is empty: a document of the format %s/1 is wanted." % (called, kind))
    is_yaml = name.endswith((".yaml", ".yml")) or not text.lstrip().startswith(("{", "["))
    try:
        values = parse(text, is_yaml)
    except NoDocument as error:
        raise NoDocument("%s: %s" % (called, error)) from error
    says = values.get("format") if isinstance(values, dict) else None
    if isinstance(says, str) and says.partition("/")[0] != kind:
        raise NoDocument("%s is of the format %s: one of the format %s/1 is wanted." % (called, says[:40], kind))
    return values
