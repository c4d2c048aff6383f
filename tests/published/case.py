"""The shape of a case: one call of an engine function with plain values, what a source says of it, and how sure that is.

`call` is "room.module.function" within webapp.engine, `inputs` its keyword arguments, `at` the way into what it returns.
"""
from collections import namedtuple

PUBLISHED = "published"  # the source prints this very figure
WORKED = "published formula"  # the source prints the formula or table; this figure was worked from it apart from the engine
PROVEN = "proven"  # textbook formula from memory; the figure was found by two ways of numerical integration as well
PRACTICE = "common practice"  # a habit of the trade, no published source
MEMORY = "memory"  # remembered, not found in print
STATUSES = (PUBLISHED, WORKED, PROVEN, PRACTICE, MEMORY)

# `printed`: the figure as text; the engine must agree to half of the last digit printed
Printed = namedtuple("Printed", "id call inputs printed source status at", defaults=((),))
# `says`: grade, temperature, yes or no: must be equal
Says = namedtuple("Says", "id call inputs says source status at", defaults=((),))
# the engine must refuse and name this field
Refused = namedtuple("Refused", "id call inputs field source status")
