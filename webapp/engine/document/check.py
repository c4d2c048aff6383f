"""The check of a document against its catalogue: every finding names its place. Takes any JSON value, never raises."""
from .catalogue import MOST_TEXT, RANGE_FIELDS, SYSTEM
from .check_line import check_line
from ..basics.figure import given
from ..basics.findings import finding

_THINGS = {"sections[]": "pipe", "devices[]": "device", "devices[].outlets[]": "outlet", "points[]": "point", "switches[]": "switch",
           "runs[]": "run", "items[]": "item", "entries[]": "entry"}
_MOST_FINDINGS = 100
_MOST_ENTRIES = 200
_HUGE = 1e15
# above nothing and below this is nothing that anybody measures, and what is divided by it has no end
_TINY = 1e-12
_ENDLESS = float("inf")
_NUMBERS = (int, float)


def check(document):
    """Findings of a document: its format, then every field of its catalogue, then how the line hangs together.

    A document with a `stop` cannot be worked or stored.
    """
    if not isinstance(document, dict):
        return [finding("stop", "", "check.not_a_document")]
    form = document.get("format")
    if form == "system/1":
        findings = _Fields(document, SYSTEM).findings or check_line(document)
    else:
        findings = _check_record(document, form)
    return findings[:_MOST_FINDINGS]


def _check_record(document, form):
    from .check_records import HANGS_TOGETHER
    from .documents import CATALOGUES
    if not isinstance(form, str) or form not in CATALOGUES:
        return [finding("stop", "format", "check.format", [
            ("format", form if isinstance(form, str) and form else "(none)"), ("known", ", ".join(sorted(CATALOGUES)))])]
    findings = _Fields(document, CATALOGUES[form]).findings
    return findings or (HANGS_TOGETHER[form](document) if form in HANGS_TOGETHER else [])


def is_number(value):
    """True for a number; a bool is none."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _is_finite(value):
    return -_ENDLESS < value < _ENDLESS


class _Fields:
    """One walk through the catalogue. `groups` maps a parent's path to its instances: (place, container, thing's name)."""

    def __init__(self, document, catalogue):
        self.findings = []
        self.groups, self.kind = {"": [("", document, "")]}, document.get("kind")
        keys = {}
        for entry in catalogue:
            parent, _, key = entry["path"].rpartition(".")
            instances = self.groups.get(parent, ())
            if parent not in keys:
                keys[parent] = {name for _, container, _ in instances for name in container}
            if entry["required"] or key in keys[parent]:
                self._check(entry, key, instances)

    def _find(self, identifier, entry, place, thing, values=None):
        if len(self.findings) < _MOST_FINDINGS:
            self.findings.append(finding("stop", place, identifier, [
                ("label", entry["label"]), ("of", " of " + thing if thing else "")] + (values or [])))

    def _check(self, entry, key, instances):
        """One field of all instances of its parent."""
        when, required, kind = entry["when"], entry["required"], entry["kind"]
        judge = getattr(self, "_" + kind)
        if when and when[0] == "kind":
            if self.kind not in when[1]:
                return
            when = None
        low, high = (entry["low"], entry["high"]) if kind == "number" else (1, 0)
        texts, choices = kind in ("text", "id"), entry["choices"] if kind == "choice" else ()
        tiny, longest = _TINY, MOST_TEXT
        for place, container, thing in instances:
            value = container.get(key)
            if value is None and not required:
                continue
            if when and container.get(when[0]) not in when[1]:
                continue
            # most of a document, on every key typed: what is well needs neither its place nor a judge
            sort = type(value)
            if sort is float or sort is int:
                if low <= value <= high and (value >= tiny or value <= 0):
                    continue
            elif sort is str and (value in choices or (texts and len(value) <= longest and value.strip())):
                continue
            place = place + "." + key if place else key
            if value is None:
                self._find("check.missing", entry, place, thing)
            else:
                judge(entry, value, place, thing)

    def _wanted(self, entry, place, thing, wanted):
        self._find("check.type", entry, place, thing, [("wanted", wanted)])

    def _number(self, entry, value, place, thing):
        if not is_number(value):
            return self._wanted(entry, place, thing, "a number")
        if entry["low"] <= value <= entry["high"] and not 0 < value < _TINY:
            return None
        if not _is_finite(value) or 0 < value < _TINY:
            return self._find("check.not_a_number", entry, place, thing)
        bound, means = ("low", "least") if value < entry["low"] else ("high", "most")
        shown = given(float(value), entry["unit"], "entered") if -_HUGE < value < _HUGE else "far too large"
        return self._find("check." + bound, entry, place, thing,
                          [("value", shown), (bound, given(entry[bound], entry["unit"], means))])

    def _whole(self, entry, value, place, thing):
        if is_number(value) and _is_finite(value) and value != int(value):
            return self._wanted(entry, place, thing, "a whole number")
        return self._number(entry, value, place, thing)

    def _numbers(self, entry, value, place, thing):
        if not isinstance(value, list):
            return self._wanted(entry, place, thing, "a list of numbers")
        if len(value) > entry["most"]:
            return self._too_many(entry, value, place)
        for number, one in enumerate(value):
            self._number(entry, one, "%s[%d]" % (place, number), thing)
        return None

    def _text(self, entry, value, place, thing):
        if not isinstance(value, str):
            return self._wanted(entry, place, thing, "a text")
        if entry["required"] and not value.strip():
            return self._find("check.missing", entry, place, thing)
        if len(value) > MOST_TEXT:
            return self._find("check.long_text", entry, place, thing, [("most", str(MOST_TEXT))])
        return None

    def _id(self, entry, value, place, thing):
        return self._text(entry, value, place, thing)

    def _choice(self, entry, value, place, thing):
        if value not in entry["choices"]:
            self._find("check.choice", entry, place, thing, [
                ("value", value[:40] if isinstance(value, str) else "something else"), ("choices", ", ".join(entry["choices"]))])

    def _bool(self, entry, value, place, thing):
        if not isinstance(value, bool):
            self._wanted(entry, place, thing, "yes or no")

    def _map(self, entry, value, place, thing):
        if not isinstance(value, dict) or len(value) > _MOST_ENTRIES or not all(
                [isinstance(text, str) and len(text) <= MOST_TEXT for text in value.values()]):
            self._wanted(entry, place, thing, "a table of short texts")

    def _data(self, entry, value, place, thing):
        if not isinstance(value, dict) or len(value) > _MOST_ENTRIES:
            self._wanted(entry, place, thing, "a group of fields")

    def _texts(self, entry, value, place, thing):
        if not isinstance(value, list) or len(value) > _MOST_ENTRIES or not all(
                [isinstance(text, str) and len(text) <= MOST_TEXT for text in value]):
            self._wanted(entry, place, thing, "a list of short texts")

    def _group(self, entry, value, place, thing):
        if not isinstance(value, dict):
            return self._wanted(entry, place, thing, "a group of fields")
        self.groups.setdefault(entry["path"], []).append((place, value, thing))
        return None

    def _too_many(self, entry, value, place):
        self._find("check.too_many", entry, place, "", [("count", str(len(value))), ("most", str(entry["most"]))])

    def _list(self, entry, value, place, thing):
        if not isinstance(value, list):
            return self._wanted(entry, place, thing, "a list")
        if entry["required"] and not value:
            return self._find("check.too_few", entry, place, thing)
        if len(value) > entry["most"]:
            return self._too_many(entry, value, place)
        path = entry["path"] + "[]"
        word = _THINGS.get(path, "entry")
        for number, item in enumerate(value):
            item_place = "%s[%d]" % (place, number)
            if isinstance(item, dict):
                self.groups.setdefault(path, []).append((item_place, item, "%s %s" % (word, _name_of(item, number))))
            else:
                self._wanted(entry, item_place, "", "a group of fields")
        return None

    def _ranges(self, entry, value, place, thing):
        entries = [value] if isinstance(value, dict) else value
        if not isinstance(entries, list) or not entries or len(entries) > entry["most"] \
                or not all([isinstance(one, dict) for one in entries]):
            return self._wanted(entry, place, thing, "a range with min_s, max_s and step_s, or a list of such")
        for number, one in enumerate(entries):
            one_place = place if isinstance(value, dict) else "%s[%d]" % (place, number)
            for inner in RANGE_FIELDS:
                self._check(inner, inner["path"], [(one_place, one, entry["label"].lower())])
            if is_number(one.get("min_s")) and is_number(one.get("max_s")) and one["min_s"] > one["max_s"]:
                self._find("check.range_order", entry, one_place, thing)
        return None


def _name_of(item, number):
    for key in ("name", "id"):
        if isinstance(item.get(key), str) and item[key].strip():
            return item[key][:40]
    return str(number + 1)
