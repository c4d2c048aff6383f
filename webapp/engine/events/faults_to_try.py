"""The faults that can be tried on a system, with the places and sizes that it offers, in words for a reader."""
from ..basics.kinds import DUAL, PROGRESSIVE, fitting
from ..basics.text import decimal, shown
from ..line.tree import PUMP, spot
from ..words.sentences import sentence
from .faults import FORMS

# sizes that can be chosen: shares of the pump's delivery that leak, of the volume that is air, and so on
_LEAKS = (0.1, 0.3, 1)
_AIRS = (0.05, 0.15, 0.3)
_PUMPS = (0.75, 0.5, 0.25, 0)
_VENTS = (0.3, 0.1)
_TRIPS = (0.7, 1.3)
_RELIEFS = (0.8, 0.5)
_LEFT_L = (0, 0.02)


def to_try(document, units="metric"):
    """[{"name", "says", "caution", "places": [[value, text]], "sizes": [[value, text]]}] for a checked document.

    A fault is typed as name=place:size, with only what it has of these. Sizes go by the pressure at which the line works.
    """
    return _ToTry(fitting(document), units).rows()


class _ToTry:
    def __init__(self, document, units):
        self.document, self.units, self.kind = document, units, document["kind"]
        switches = [switch["trips_bar"] for switch in document["switches"] if switch.get("trips_bar")]
        self.works_bar = switches[0] if switches else max([device["fires_bar"] for device in document["devices"]])

    def rows(self):
        """A row for every fault that this kind can have."""
        out = []
        for name, _ in FORMS:
            places, sizes = getattr(self, "_" + name)()
            if places == [] or sizes == []:
                continue
            out.append({"name": name, "says": self._says("try." + name), "caution": self._says("try.caution." + name),
                        "places": places or [], "sizes": [[_typed(value), text] for value, text in sizes or []]})
        return out

    def _says(self, identifier, **texts):
        return sentence(identifier, texts)["says"]

    def _shown(self, value, unit):
        return shown(value, unit, self.units)

    def _share(self, identifier, share):
        return share, self._says(identifier, share=self._shown(100 * share, "%"))

    # ---- places

    def _on_lines(self, places):
        """Each place once, or once a line."""
        if self.kind != DUAL:
            return places
        return [[value + "/" + line, "%s, line %s" % (text, line)] for value, text in places for line in ("A", "B")]

    def _fed(self, device):
        names = [point["name"] for point in self.document["points"] if point["device"] == device["id"]]
        return ": ".join([device["id"]] + [", ".join(names)] * bool(names))

    def _nodes(self):
        out = [[PUMP, self._says("try.at_pump")]]
        for section in self.document["sections"]:
            there = [self._fed(device) for device in self.document["devices"] if device.get("at") == section["to"]]
            out.append([section["to"], there[0] if len(there) == 1 else _capital(spot(self.document, section["to"]))])
        return self._on_lines(out)

    def _pipes(self):
        return self._on_lines([[section["id"], self._says(
            "try.pipe", id=section["id"], length=self._shown(section["length_m"], "m"), start=spot(self.document, section["from"]),
            end=spot(self.document, section["to"]))]
            for section in self.document["sections"]])

    def _switches(self):
        return [[switch["id"], self._says("try.switch_at", id=switch["id"])] for switch in self.document["switches"]]

    # ---- the faults: (places, sizes), None for what they do not have; nothing to choose: it cannot be

    def _leak(self):
        rate = self.document["pump"]["delivery_cm3_min"] / self.works_bar
        return self._nodes(), [(share * rate, self._says("try.leak.size", share=self._shown(100 * share, "%"),
                                                         bar=self._shown(self.works_bar, "bar"))) for share in _LEAKS]

    def _air(self):
        return None, [self._share("try.air.size", share) for share in _AIRS]

    def _pump(self):
        return None, [self._share("try.pump.size", share) if share else (0, self._says("try.pump.none")) for share in _PUMPS]

    def _blocked(self):
        return self._pipes(), None

    def _vent(self):
        if self.kind == PROGRESSIVE:
            return None, []
        return None, [("stuck", self._says("try.vent.stuck"))] + [self._share("try.vent.size", share) for share in _VENTS]

    def _device(self):
        return [[device["id"], self._fed(device)] for device in self.document["devices"]], None

    def _switch(self):
        sizes = [("stuck", self._says("try.switch.stuck"))]
        if self.kind != PROGRESSIVE:
            sizes += [(share * self.works_bar, self._says("try.switch.size", bar=self._shown(share * self.works_bar, "bar")))
                      for share in _TRIPS]
        return self._switches(), sizes

    def _contact(self):
        return self._switches(), None

    def _relief(self):
        return None, [(share * self.works_bar, self._says("try.relief.size", bar=self._shown(share * self.works_bar, "bar")))
                      for share in _RELIEFS]

    def _empty(self):
        return None, [(left, self._says("try.empty.size", left=self._shown(left, "l")) if left else self._says("try.empty.none"))
                      for left in _LEFT_L]


def _capital(text):
    return text[:1].upper() + text[1:]


def _typed(value):
    """A size as faults.read takes it."""
    return value if isinstance(value, str) else decimal(value, 6)
