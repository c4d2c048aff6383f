"""Adjustments held against the settings sheet: what stands at the controller otherwise than the sheet says, until somebody settles it."""
from collections import OrderedDict

from ..basics.dates import days_of
from ..basics.figure import given
from ..basics.findings import finding
from ..basics.text import shown

FOLLOWS, SET_BACK, EXCEPTION = "sheet follows", "set back", "stays as an exception"


def adjusted(adjustments, settings, entered=()):
    """{"adjustments": [...], "differing": count}, the newest first.

    adjustments: bodies, each with its `document`; settings: of the worked system; entered: bodies of signed entries of the whole
    sheet, after which an earlier adjustment stands no more. A row: document, stands (nothing came after it), differs (to be settled),
    settled (how, or None), `finding` with what the sheet says and what to do, or None.
    """
    since = _entered(entered)
    ranked = sorted([(-(days_of(one.get("made_at")) or 0), number, one) for number, one in enumerate(adjustments)], key=lambda row: row[:2])
    rows, seen = [], set()
    for _, _, one in ranked:
        setting = _setting(one, settings)
        key = setting["name"] if setting else _plain(one.get("setting"))
        rows.append(_row(one, setting, key not in seen and (days_of(one.get("made_at")) or 0) >= since.get(key, 0)))
        seen.add(key)
    return {"adjustments": rows, "differing": len([row for row in rows if row["differs"]])}


def _entered(entered):
    """Name of a setting -> when it was entered last, in days."""
    since = {}
    for record in entered:
        for entry in record.get("entries") or []:
            since[entry["name"]] = max(since.get(entry["name"], 0), days_of(record.get("made_at")) or 0)
    return since


def _plain(text):
    return " ".join((text or "").lower().split())


def _setting(adjustment, settings):
    """The sheet's setting: by its name where the record has it, else by the words that a person typed. None: the sheet has none."""
    for one in settings:
        if adjustment.get("name") == one["name"]:
            return one
    for one in settings:
        if _plain(adjustment.get("setting")) in (_plain(one.get("label")), _plain(one.get("wording")) or None):
            return one
    return None


def alike(adjustment, setting):
    """True where a reader would see the same at the controller and on the sheet."""
    value = adjustment.get("value")
    if value is not None and adjustment.get("unit") == setting["unit"]:
        return shown(value, setting["unit"]) == shown(setting["value"], setting["unit"])
    return _plain(adjustment.get("to")) in [_plain(shown(setting["value"], setting["unit"], units)) for units in ("metric", "us")]


def _row(adjustment, setting, stands):
    settled = adjustment.get("settled") or {}
    how = settled.get("how")
    found = _found(adjustment, setting, how, settled.get("statement") or "") if stands else None
    return OrderedDict((("document", adjustment.get("document")), ("stands", stands), ("settled", how),
                        ("differs", found is not None and found["severity"] == "warn"), ("finding", found)))


def _found(adjustment, setting, how, statement):
    """What is to be said of the adjustment that stands: a warning until it is settled, a note where it stays an exception."""
    if how == SET_BACK or (how and not setting) or (setting and alike(adjustment, setting)):
        return None
    value, to = adjustment.get("value"), adjustment.get("to") or ""
    if setting and value is not None and adjustment.get("unit") == setting["unit"]:
        to = given(value, setting["unit"], "at the controller")
    words = [("setting", setting["label"] if setting else adjustment.get("setting") or ""), ("to", to)]
    if not setting:
        return finding("warn", "", "adjusted.no_setting", words)
    words.append(("sheet", given(setting["value"], setting["unit"], "on the sheet")))
    if how == EXCEPTION:
        return finding("note", "", "adjusted.exception", words + [("why", statement)])
    return finding("warn", "", "adjusted.not_followed" if how == FOLLOWS else "adjusted.differs", words)
