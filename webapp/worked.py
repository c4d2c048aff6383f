"""What pages need of a worked system, worked once: a revision never changes."""
import json
from copy import deepcopy
from functools import lru_cache

from .engine.bridge import ask
from .engine.systems.worked import work

_KEPT = ("findings", "reservoir", "build", "settings")
_MOST = 2000
_seasons = {}


@lru_cache(maxsize=_MOST)
def _kept(body, units):
    worked = ask({"do": "work", "document": json.loads(body), "units": units})
    return {name: worked[name] for name in _KEPT if name in worked}


def unworded(body):
    """{"worked", "season"} of a system as the two below give them, without texts: what is kept with its verdict."""
    found = work(body, keep_traces=True)
    return {"worked": {name: found[name] for name in _KEPT if name in found}, "season": season(body, found)}


def worked(body, units="metric"):
    """Findings, reservoir, build-up and settings of a system with its texts; the caller's own copy."""
    return deepcopy(_kept(json.dumps(body), units))


def for_care(body, units="metric"):
    """What engine.care asks of a worked system: what stops it, its use a day, the limit of its cycle; the caller's own copy."""
    kept = _kept(json.dumps(body), units)
    build, per_day = kept.get("build") or {}, (kept.get("reservoir") or {}).get("per_day")
    return {"findings": deepcopy([entry for entry in kept["findings"] if entry["severity"] == "stop"]),
            "reservoir": {"per_day": {name: per_day[name] for name in ("value", "estimate")}} if per_day else {},
            "build": {name: {"value": build[name]["value"]} for name in ("time_limit", "window") if build.get(name)}}


def season(body, simulated=None):
    """{"change_at", "sets"}: settings by season, none where one set serves the year; the caller's own copy.

    simulated   the system worked with its traces, where it is known already
    """
    key = json.dumps(body)
    if key not in _seasons:
        if len(_seasons) >= _MOST:
            _seasons.clear()
        _seasons[key] = ask({"do": "season_sets", "document": body, "worked": simulated, "detail": False})
    return deepcopy(_seasons[key])


def season_at_hand(body):
    """The same where it was worked already, else None."""
    return deepcopy(_seasons.get(json.dumps(body)))
