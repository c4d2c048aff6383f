"""The engine's floor: what it imports, what comes along, and that the phone's interpreter takes every file."""
import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

from webapp import engine
from webapp.engine.basics.adding import added_up
from webapp.phone_engine import ONLY_ON_SERVER, PhoneEngine, bundle

ROOT = Path(engine.__file__).parent
FILES = sorted(ROOT.rglob("*.py"))
NAMES = [".".join(path.relative_to(ROOT).with_suffix("").parts) for path in FILES if path.stem != "__init__"]
ALLOWED = {"math", "json", "collections"}
UPSTAIRS = {"flask", "sqlalchemy", "pint", "weasyprint", "click", "yaml"}


def imports_of(source):
    """(level, module) of every import statement in a source text."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((0, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.level, node.module


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_engine_file_imports_only_what_the_phone_has(path):
    foreign = [module for level, module in imports_of(path.read_text(encoding="utf-8"))
               if level > len(path.relative_to(ROOT).parts) or (level == 0 and module not in ALLOWED)]
    assert foreign == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_an_engine_file_adds_up_as_the_phone_does(path):
    """By added_up: the builtin of later Pythons carries what rounding loses."""
    called = [node.func.id for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
              if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)]
    assert called.count("sum") == (path.stem == "adding")


def test_what_rounding_loses_stays_lost():
    assert added_up([1e16, 1.0, -1e16]) == 0.0 and added_up([]) == 0 and added_up([1, 2]) == 3


def rooms_in_order():
    rows = (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
    return [row.split("`")[1] for row in rows if row.startswith("| `")]


def test_the_list_of_rooms_is_whole():
    assert sorted(rooms_in_order()) == sorted(path.name for path in ROOT.iterdir() if (path / "__init__.py").exists())


@pytest.mark.parametrize("room", rooms_in_order())
def test_a_room_stands_on_those_before_it(room):
    below = rooms_in_order()[:rooms_in_order().index(room)]
    for path in sorted((ROOT / room).glob("*.py")):
        reached = {module.split(".")[0] for level, module in imports_of(path.read_text(encoding="utf-8")) if level == 2}
        assert reached - set(below) == set(), path.name


def test_importing_the_engine_loads_nothing_from_upstairs():
    names = ["webapp.engine." + name for name in NAMES]
    code = "import sys, importlib\nfor name in %r: importlib.import_module(name)\nprint(' '.join(sys.modules))" % names
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "webapp.engine.bridge" in loaded
    assert UPSTAIRS & {name.split(".")[0] for name in loaded} == set()


def test_every_engine_file_imports_under_the_phone_s_interpreter():
    probe = "\n".join("import engine." + name for name in NAMES) + "\ndef answer(text):\n    return __name__\n"
    files = dict(bundle()["files"], **{"engine/probe.py": probe})
    files.update(("engine/year/" + path.name, path.read_text(encoding="utf-8")) for path in ONLY_ON_SERVER)
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
