"""Quantities that sources print in two units: what is typed in the one must be read as the other. Data only."""
from tests.published.case import MEMORY, PUBLISHED, WORKED

PRESSURES = "The Tribology Handbook, section C14, p. C14.1"
OIL = "Bulk Modulus, a public page of engineering data: modulus and expansion of hydraulic oil, printed in US units"
INJECTION = "Louisville Manual for Hand Surgery, chapter on injection injuries"
GUNS = "Machinery Lubrication 32943: what grease guns reach"

# (typed, unit of the field, printed, source, status)
CASES = (
    ("2500 psi", "bar", "17e1", PRESSURES, PUBLISHED),
    ("1200 psi", "bar", "83", PRESSURES, PUBLISHED),
    ("100 psi", "bar", "7", INJECTION, PUBLISHED),
    ("15 000 psi", "bar", "1034", GUNS, WORKED),
    ("2.6e5 psi", "MPa", "1793", OIL, WORKED),
    ("3.0e5 psi", "MPa", "2068", OIL, WORKED),
    ("0.00046 1/°F", "1/K", "0.00083", OIL, WORKED),
    ("150 °F", "°C", "66", "temperature steps of relubrication factors, from memory", MEMORY),
)
