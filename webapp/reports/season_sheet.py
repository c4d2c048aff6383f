"""The season sheet: how cold it may get and why, settings by season, the line over the whole ambient range."""
from ..engine.bridge import ask
from .base import basis, of_system, page_of, render

_WIDTH = 640
_BUILD = {"dual-line": "Build-up, slower line", "progressive": "Until the cycle switch signals",
          "time-only": "Until the last device is fed"}
_ROW = (("drop", "Drop at full delivery"), ("peak", "Greatest pressure at the pump"), ("rest", "Stays in the line at rest"),
        ("residual", "Left after venting"), ("reset", "Until all has reset"))
_LOWEST = (("works_to", "Works down to"), ("reaches", "With the longest that can be set"), ("reset", "Vents down to"),
           ("pipe", "The coldest pipe is then at"))
_SETTINGS = (("time_limit", "Time limit"), ("window", "Monitoring time"), ("run_time", "Run time"),
             ("time_limit_second", "Time limit, second switch"), ("vent", "Vent"))
_STOPS = {"reset": "does not reset", "relief": "relief pressure first", "time_limit": "takes longer than can be set",
          "idle": "a device is not reached", None: "works"}


def season_sheet(reader, revision, made_by):
    """Paper of a system's revision over the year; made_by: the name of the person who made it."""
    document, units = revision["body"], reader.units
    season = ask({"do": "season", "document": document, "units": units})
    values = of_system(reader, revision, made_by, system=document, season=season, kind="Season sheet", stops=_STOPS)
    if "sets" in season:
        values["basis"] = basis(document, units)
        row = (("build", _BUILD.get(document["kind"], "Build-up")),) + _ROW
        values["picture"] = ask({"do": "season_picture", "document": document, "season": season, "width": _WIDTH, "units": units})
        values["columns"] = [(key, name) for key, name in row if key in season["temperatures"][0]]
        values["settings"] = [(key, name) for key, name in _SETTINGS if any(key in one for one in season["sets"])]
        values["working"] = _working(season, row)
    return render(reader, "season_sheet.html", "Season sheet: %s" % document["name"], revision["made_at"],
                  {"system.json": document, "season.json": season}, page_of(revision["document"]) + "/season", **values)


def _working(season, row):
    """[(title, [(name, figure)])] of what is worth following: the lowest temperature, the settings, the coldest row."""
    lowest, cold = season["lowest"], season["temperatures"][0]
    groups = [("How cold it may get", [(name, lowest[key]) for key, name in _LOWEST if lowest.get(key)])]
    groups += [("Settings, %s" % one["season"], [(name, one[key]) for key, name in _SETTINGS if key in one]) for one in season["sets"]]
    if season["change_at"]:
        groups.append(("Change over", [("When mornings pass", season["change_at"])]))
    return groups + [("At %s" % cold["at"]["shown"], [(name, cold[key]) for key, name in row if key in cold])]
