"""The shape of an entry of a catalogue."""


def field(path, label, kind, part, unit=None, low=None, high=None, required=True, choices=None, default=None, help="",
          when=None, most=None):
    """One entry of a catalogue.

    kind   "number", "whole", "text", "choice", "bool", "id", "numbers", "group", "list", "ranges" (a group or a list
           of groups), "map" (of texts), "data" (whatever another check looks at)
    unit   key of text.UNITS; low, high: bounds of every number, both allowed; most: greatest number of entries of a list
    when   (sibling, values): the field applies only where the sibling has one of these values; the sibling "kind" is the
           system's kind, wherever the field stands
    """
    return {"path": path, "label": label, "kind": kind, "part": part, "unit": unit, "low": low, "high": high,
            "required": required, "choices": choices, "default": default, "help": help, "when": when, "most": most}
