"""The engine's floor: what it imports, what comes along, and that the phone's interpreter takes every file."""
import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

from webapp import engine
from webapp.phone_engine import PhoneEngine, bundle

FILES = sorted(Path(engine.__file__).parent.glob("*.py"))
ALLOWED = {"math", "json", "collections"}
UPSTAIRS = {"flask", "sqlalchemy", "pint", "weasyprint", "click", "yaml"}


def imports_of(source):
    """(level, module) of every import statement in a source text."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((0, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.level, node.module


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_engine_file_imports_only_what_the_phone_has(path):
    foreign = [module for level, module in imports_of(path.read_text(encoding="utf-8"))
               if level > 1 or (level == 0 and module not in ALLOWED)]
    assert foreign == []


def test_importing_the_engine_loads_nothing_from_upstairs():
    names = ["webapp.engine." + path.stem for path in FILES]
    code = "import sys, importlib\nfor name in %r: importlib.import_module(name)\nprint(' '.join(sys.modules))" % names
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "webapp.engine.bridge" in loaded
    assert UPSTAIRS & {name.split(".")[0] for name in loaded} == set()


def test_every_engine_file_imports_under_the_phone_s_interpreter():
    stems = [path.stem for path in FILES if path.stem != "__init__"]
    probe = "\n".join("from . import " + stem for stem in stems) + "\ndef answer(text):\n    return __name__\n"
    files = dict(bundle()["files"], **{"engine/probe.py": probe})
    with PhoneEngine({"files": files, "entry": "engine.probe"}) as phone:
        assert phone.ask("{}") == "engine.probe"


def test_the_phone_gets_no_docstring_and_no_comment():
    for name, source in bundle()["files"].items():
        assert "#" not in [line.strip()[:1] for line in source.splitlines()], name
        assert not any(ast.get_docstring(node) for node in ast.walk(ast.parse(source))
                       if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))), name


def test_a_bug_in_the_engine_is_told_and_the_interpreter_goes_on():
    with PhoneEngine() as phone:
        with pytest.raises(RuntimeError, match="KeyError"):
            phone.ask(json.dumps({"do": "no such thing"}))
        assert json.loads(phone.ask(json.dumps({"do": "check", "document": 5})))["findings"][0]["id"] == "check.not_a_document"
