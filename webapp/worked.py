"""What pages need of a worked system, worked once: a revision never changes."""
import json
from copy import deepcopy
from functools import lru_cache

from .engine.bridge import ask

_KEPT = ("findings", "reservoir", "build", "settings")


@lru_cache(maxsize=2000)
def _kept(body, units):
    worked = ask({"do": "work", "document": json.loads(body), "units": units})
    return {name: worked[name] for name in _KEPT if name in worked}


def worked(body, units="metric"):
    """Findings, reservoir and build-up of a system with its texts; the caller's own copy."""
    return deepcopy(_kept(json.dumps(body), units))


@lru_cache(maxsize=2000)
def _season(body):
    found = ask({"do": "season", "document": json.loads(body)})
    return {"change_at": found.get("change_at"), "sets": found.get("sets") or []}


def season(body):
    """The sets of settings of a system over the year, with the temperature at which to change; the caller's own copy."""
    return deepcopy(_season(json.dumps(body)))
