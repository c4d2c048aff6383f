"""The units that people may type, by the contract's unit of the field. Anything not listed here is refused.

Each choice: (name shown in the list beside the field, pint's expression or None where nothing is converted, further
spellings). The first choice is the contract's own unit. Spellings are compared as `units.canonical` writes them, so
that "cm3", "cm^3" and "cm³" are one; spellings in small letters alone are found in any case.
"""

_VOLUMES = {"cm³": ("cm**3", ("cm3", "ccm", "cc", "ml")), "in³": ("inch**3", ("in3", "cu in", "cu. in.")),
            "l": ("liter", ("l", "litre", "litres", "liter", "liters"))}
_TIMES = {"s": ("second", ("s", "sec", "secs", "second", "seconds")), "min": ("minute", ("min", "mins", "minute", "minutes")),
          "h": ("hour", ("h", "hr", "hrs", "hour", "hours")), "days": ("day", ("d", "day", "days"))}
_PRESSURES = {"bar": ("bar", ("bar", "barg")), "psi": ("psi", ("psi", "psig", "lb/in2", "lbf/in2")), "MPa": ("MPa", ("MPA",)),
              "kPa": ("kPa", ("kpa",)), "kgf/cm²": ("kgf/cm**2", ("kg/cm2", "kgf/cm2")), "Pa": ("Pa", ("pa",))}
_LENGTHS = {"mm": ("mm", ("mm",)), "cm": ("cm", ("cm",)), "m": ("m", ("m", "metre", "metres", "meter", "meters")),
            "in": ("inch", ("in", "in.", "inch", "inches", '"')), "ft": ("foot", ("ft", "ft.", "foot", "feet", "'"))}


def _of(table, names):
    return tuple((name,) + table[name] for name in names.split())


def _rate(volume, time):
    volume_expression, volumes = _VOLUMES[volume]
    time_expression, times = _TIMES[time]
    return (volume + "/" + time.replace("days", "day"), volume_expression + "/" + time_expression,
            tuple("%s/%s" % (one, other) for one in volumes for other in times))


_PLAIN = ("", "dimensionless", ())
_PERCENT = ("%", "percent", ("percent",))

CHOICES = {
    "bar": _of(_PRESSURES, "bar psi MPa kPa kgf/cm²"),
    "Pa": _of(_PRESSURES, "Pa kPa psi"),
    "MPa": _of(_PRESSURES, "MPa psi bar") + (("GPa", "GPa", ()),),
    "cm³": _of(_VOLUMES, "cm³ in³ l") + (("mm³", "mm**3", ()),),
    "l": _of(_VOLUMES, "l cm³") + (("US gal", "gallon", ("gal", "gallon", "gallons")), ("US qt", "quart", ("qt", "quart", "quarts"))
                                   ) + _of(_VOLUMES, "in³"),
    "cm³/h": (_rate("cm³", "h"), _rate("in³", "h"), _rate("cm³", "min"), _rate("cm³", "days")),
    "cm³/min": (_rate("cm³", "min"), _rate("in³", "min"), _rate("l", "min"), _rate("cm³", "h"), _rate("l", "h")),
    "cm³/(min·bar)": (("cm³/(min·bar)", "cm**3/minute/bar", ("cm3/min/bar", "ccm/min/bar", "cc/min/bar", "ml/min/bar")),
                      ("in³/(min·psi)", "inch**3/minute/psi", ("in3/min/psi",))),
    "cm³/(m·100 bar)": (("cm³/m per 100 bar", "cm**3/m/hectobar", ("cm3/m", "cm3/m/100bar")),
                        ("in³/ft per 1000 psi", "inch**3/foot/kilopsi", ("in3/ft", "in3/ft/1000psi"))),
    "mm": _of(_LENGTHS, "mm in cm m ft"),
    "m": _of(_LENGTHS, "m ft cm mm in"),
    "cm²": (("cm²", "cm**2", ()), ("in²", "inch**2", ("sq in", "sq. in.")), ("mm²", "mm**2", ()), ("m²", "m**2", ())),
    "mm²": (("mm²", "mm**2", ()), ("kcmil", "kcmil", ("mcm",))),
    "°C": (("°C", "degC", ("c", "deg c")), ("°F", "degF", ("f", "deg f")), ("K", "kelvin", ())),
    "1/K": (("1/K", "1/delta_degC", ("1/°C", "/K")), ("1/°F", "1/delta_degF", ("/°F",))),
    "kg/m³": (("kg/m³", "kg/m**3", ()), ("lb/ft³", "lb/foot**3", ()), ("g/cm³", "g/cm**3", ("g/ml", "kg/l", "g/ccm"))),
    "mm²/s": (("mm²/s", "mm**2/second", ()), ("cSt", "centistokes", ("cst",))),
    "Pa·sⁿ": (("Pa·sⁿ", None, ("Pa·s^n", "Pa·s")),),
    "s": _of(_TIMES, "s min h days"),
    "h": _of(_TIMES, "h min days s"),
    "days": _of(_TIMES, "days h"),
    "days": _of(_TIMES, "days h"),
    "A": (("A", "ampere", ("a", "amp", "amps")), ("mA", "mA", ("ma",))),
    "V": (("V", "volt", ("v", "volt", "volts")),),
    "r/min": (("r/min", "rpm", ("rpm", "rev/min", "1/min", "min-1")),),
    "%": (("%", None, ("percent",)),),
    "ratio": (_PLAIN, _PERCENT),
    "1": (_PLAIN, _PERCENT),
    "count": (_PLAIN,),
}
# fields whose parts may be added up: "3 h 40 min", "5 ft 3 in"
ADDED_UP = ("s", "h", "days", "m", "mm")
