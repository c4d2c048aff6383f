"""How warm each pipe is: as warm as the system, or by an ambient of its own; what warming does to a shut line."""


def section_c(document, section, at_c):
    """Temperature [°C] of a section's lubricant when the system's ambient is at_c [°C].

    A section without an `ambient` of its own is as warm as the system. One with its own sits at the same place between its
    own coldest, usual and hottest temperature as at_c does between the system's; beyond these ends both move by the same
    number of kelvins. A place between two alike temperatures of the system counts as the upper one.
    """
    own = section.get("ambient")
    if not own:
        return at_c
    system = document["ambient"]
    if at_c < system["coldest_c"]:
        return own["coldest_c"] + at_c - system["coldest_c"]
    for low, high in (("coldest_c", "usual_c"), ("usual_c", "hottest_c")):
        if at_c < system[high]:
            place = (at_c - system[low]) / (system[high] - system[low])
            return own[low] + place * (own[high] - own[low])
    return own["hottest_c"] + at_c - system["hottest_c"]


def shut_in_pressure(bulk_modulus, expansion_per_k, warming_k, swelling=0.0):
    """Pressure that a full, shut line gains when it is warmed, in the unit of the bulk modulus; it can burst a pipe.

    expansion · warming / (1 / bulk modulus + swelling)

    expansion_per_k  thermal expansion of the lubricant by volume [1/K]; oil about 7e-4 to 8.3e-4
    warming_k        [K]
    swelling         of the walls, as a share of the volume per unit of pressure; 0: rigid
    Source: engineering data page "Bulk Modulus", worked example of trapped liquid (leeimh.com). Departs from the source: the
    walls may swell. Free air would leave less pressure: the safe side.
    """
    return expansion_per_k * warming_k / (1 / bulk_modulus + swelling)
