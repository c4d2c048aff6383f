"""The catalogue of sentences for readers, by language and id: findings, reasons, checks. A language is one more catalogue.

`{name}` is filled with the shown text of the figure or text of that name. `says` tells what is, `do` what to do.
"""

from . import sentences_care, sentences_check, sentences_kinds, sentences_worked

_ROOMS_ENGLISH = (sentences_check.ENGLISH, sentences_worked.ENGLISH, sentences_kinds.ENGLISH, sentences_care.ENGLISH)

FALLBACK = "en"


def _joined(rooms):
    out = {}
    for room in rooms:
        out.update(room)
    return out


def _late_rooms():
    """Rooms that the first figure of the form never speaks of: compiled when a sentence of theirs is asked."""
    from . import sentences_defects, sentences_diagnose, sentences_due, sentences_lubricant, sentences_season, sentences_simulate, \
        sentences_tonight, sentences_trends, sentences_wiring
    return (sentences_wiring.ENGLISH, sentences_lubricant.ENGLISH, sentences_simulate.ENGLISH, sentences_trends.ENGLISH,
            sentences_season.ENGLISH, sentences_diagnose.ENGLISH, sentences_tonight.ENGLISH, sentences_due.ENGLISH,
            sentences_defects.ENGLISH)


LANGUAGES = {"en": _joined(_ROOMS_ENGLISH)}


def fill(template, texts):
    """Put texts into the template's {names}. A name that is not given is a bug and raises KeyError."""
    out, rest = [], template
    while "{" in rest:
        before, _, rest = rest.partition("{")
        name, _, rest = rest.partition("}")
        out += [before, texts[name]]
    return "".join(out) + rest


def sentence(identifier, texts, language=FALLBACK):
    """{"says", "do"} of one id, filled with `texts` (name to shown text)."""
    catalogue = LANGUAGES.get(language, LANGUAGES[FALLBACK])
    if identifier not in catalogue:
        LANGUAGES[FALLBACK].update(_joined(_late_rooms()))
    entry = catalogue[identifier]
    return {"says": fill(entry["says"], texts), "do": fill(entry.get("do", ""), texts)}
