"""The engine as the phone gets it: its sources without docstrings and comments, run by MicroPython in WebAssembly.

`bundle()` is what the browser loads; `PhoneEngine` runs the same bundle under the same interpreter in Node.
"""
import ast
import contextlib
import hashlib
import json
import os
import shutil
import subprocess
import sys
from functools import lru_cache
from pathlib import Path

ENGINE = Path(__file__).parent / "engine"
RUNNER = Path(__file__).parent / "phone_engine.mjs"
# judged for a whole fleet by the server alone: what no page of the phone asks for need not come down on its first visit
ONLY_ON_SERVER = tuple(ENGINE / "year" / name for name in ("bounds.py", "margins.py", "tonight.py"))
STATIC = Path(__file__).parent.parent / "static"
INTERPRETER = STATIC / "vendor" / "micropython.mjs"
# made once from the same files: reading their syntax takes as long as all else that a server does to start
_KEPT = STATIC / "joined" / "engine.json"


class NoInterpreter(RuntimeError):
    """Node or the phone's interpreter is not installed; the text says what to do."""


def _without_docstrings(source):
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)):
            first = node.body[0] if node.body else None
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str):
                node.body = node.body[1:] or ([] if isinstance(node, ast.Module) else [ast.Pass()])
    return ast.unparse(tree)


def _digest(texts):
    """A hash of texts by name and of the interpreter."""
    digest = hashlib.sha256(json.dumps(texts, sort_keys=True).encode())
    for path in (INTERPRETER, INTERPRETER.with_suffix(".wasm")):
        digest.update(path.read_bytes() if path.exists() else b"")
    return digest.hexdigest()


def _made(sources):
    files = {name: _without_docstrings(source) for name, source in sources.items()}
    return {"files": files, "entry": "engine.bridge", "version": _digest(files)[:16]}


@lru_cache(maxsize=1)
def bundle():
    """The engine's files as the phone writes them: {"files": {"engine/line/flow.py": source, ...}, "entry": "engine.bridge", "version"}.

    The version stands for the interpreter as well: results and memory of another one are not used.
    """
    sources = {path.relative_to(ENGINE.parent).as_posix(): path.read_text(encoding="utf-8")
               for path in sorted(ENGINE.rglob("*.py")) if path not in ONLY_ON_SERVER}
    made_from = _digest({**sources, "": Path(__file__).read_text(encoding="utf-8"), "python": sys.version})
    with contextlib.suppress(OSError, ValueError):
        kept = json.loads(_KEPT.read_text(encoding="utf-8"))
        if kept["made_from"] == made_from:
            return kept["bundle"]
    made = _made(sources)
    with contextlib.suppress(OSError):  # a server may have no right to write there
        beside = _KEPT.with_suffix(".%d" % os.getpid())
        beside.write_text(json.dumps({"made_from": made_from, "bundle": made}), encoding="utf-8")
        beside.replace(_KEPT)
    return made


def node_command():
    """Path of Node: the one that set-up installed, else the machine's. Raises NoInterpreter."""
    beside = Path(sys.executable).parent / "node"
    found = str(beside) if beside.exists() else shutil.which("node")
    if found is None or not INTERPRETER.exists():
        raise NoInterpreter("The phone's interpreter is not installed: run ./set-up run first.")
    return found


class PhoneEngine:
    """One phone interpreter in a Node process. Use as a context manager; `ask` takes and returns JSON text.

    program  another bundle than the engine's own
    """

    def __init__(self, program=None):
        self._process = subprocess.Popen([node_command(), str(RUNNER), str(INTERPRETER)], stdin=subprocess.PIPE,
                                         stdout=subprocess.PIPE, encoding="utf-8")
        self._exchange(json.dumps(program or bundle()))

    def ask(self, text):
        """Answer of bridge.answer(text) under the phone's interpreter. Raises RuntimeError when the engine has a bug."""
        reply = json.loads(self._exchange(text))
        if "bug" in reply:
            raise RuntimeError(reply["bug"])
        return reply["answer"]

    def _exchange(self, line):
        self._process.stdin.write(line.replace("\n", " ") + "\n")
        self._process.stdin.flush()
        reply = self._process.stdout.readline()
        if not reply:
            raise RuntimeError("the phone's interpreter ended")
        return reply

    def close(self):
        self._process.stdin.close()
        self._process.wait(timeout=10)
        self._process.stdout.close()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()
