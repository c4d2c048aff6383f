"""What hangs on a line's figures without changing them: wiring, reservoir, signals."""
from ..wiring.electrical import electrical
from .reservoir import reservoir
from ..wiring.signals import signals


def around(document, worked, cycle_cm3, drawn_cm3=None):
    """Add `electrical`, `reservoir` and `signals` to a worked document that has its points and interval; returns the findings.

    cycle_cm3  what a cycle takes from the reservoir and keeps [cm³]
    drawn_cm3  what is out of it at the end of a build-up [cm³]; the same where None
    """
    interval = worked["interval"]
    cycles = interval["cycles_per_event"]["value"]
    worked["electrical"], wiring = electrical(document)
    worked["reservoir"], level = reservoir(document, cycle_cm3 * cycles, interval["events_per_day"]["value"], cycles, drawn_cm3)
    worked["signals"], signs = signals(document, worked)
    return wiring + level + signs
