"""How warm each pipe is: the system's temperature, or that of a section with an ambient of its own."""


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
