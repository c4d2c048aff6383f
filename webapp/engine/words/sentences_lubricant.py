"""Sentences about lubricants and the rules by which points are fed; words for what a grease code says."""


def _say(says, do=""):
    return {"says": says, "do": do}


_TEST = ("Take the old grease out, or have a mixture tested to ASTM D6185; both makers decide. Until then feed small amounts more often "
         "and watch what comes out.")

ENGLISH = {
    # temperatures and grades
    "lubricant.coldest_c": _say("The lubricant is good down to {limit}; it gets {t} here.",
                                "Use one with a lower limit in winter; the maker's data sheet decides."),
    "lubricant.hottest_c": _say("The lubricant is good up to {limit}; it gets {t} here.",
                                "Use one with a higher limit; the maker's data sheet decides."),
    "lubricant.coldest_c_generic": _say("A grease of this kind is good down to about {limit}, an estimate; it gets {t} here.",
                                        "Enter the limit from the data sheet."),
    "lubricant.hottest_c_generic": _say("A grease of this kind is good up to about {limit}, an estimate; it gets {t} here.",
                                        "Enter the limit from the data sheet."),
    "lubricant.code": _say("The code {code} says NLGI {says}, NLGI {entered} was entered.", "Check the label on the drum."),
    "lubricant.penetration": _say("A worked penetration of {penetration} is NLGI {grade}, as entered."),
    "lubricant.penetration_differs": _say("A worked penetration of {penetration} is NLGI {grade}; NLGI {entered} was entered.",
                                          "Check the data sheet: worked, 60 strokes, at 25 °C."),
    "lubricant.between_grades": _say("A worked penetration of {penetration} has no NLGI grade of its own; {softer} and {firmer} are next to it.",
                                     "Take the firmer grade: the safe side for pressures."),
    "lubricant.estimated": _say("How this grease flows is estimated from its grade, NLGI {grade}: an order of magnitude.",
                                "Measure the residual pressure in a test run; it replaces the estimate."),
    # codes
    "lubricant.code_says": _say("{code} says: {words}; NLGI {nlgi}; {coldest} to {hottest}."),
    "lubricant.code_unread": _say("{code} is no grease code that is known here.",
                                  "Write it as on the drum, for example KP2K-30 or ISO-L-XBCEA 2; a name belongs in the name."),
    "lubricant.code_for": _say("What is entered makes {din} by DIN 51825 and {iso} by ISO 6743-9; no more is claimed than is entered."),
    "word.duty.K": _say("for rolling and plain bearings and sliding faces"),
    "word.duty.G": _say("for closed gears"),
    "word.duty.OG": _say("for open gears"),
    "word.duty.M": _say("for plain bearings and seals of lower demands"),
    "word.duty.X": _say("grease for any place"),
    "word.pressure.yes": _say("additives against wear under high pressure"),
    "word.pressure.no": _say("no additives for high pressure"),
    "word.solid": _say("with a solid lubricant"),
    "word.oil.mineral": _say("mineral oil"),
    "word.oil.synthetic hydrocarbon": _say("synthetic hydrocarbon oil"),
    "word.oil.ester": _say("ester oil"),
    "word.oil.polyglycol": _say("polyglycol oil"),
    "word.oil.silicone": _say("silicone oil"),
    "word.oil.fluorocarbon": _say("fluorocarbon oil"),
    "word.oil.phosphate ester": _say("phosphate ester oil"),
    "word.oil.other": _say("another synthetic oil"),
    "word.water.din_humid": _say("water changes it little"),
    "word.water.din_dry": _say("water changes it"),
    "word.water.dry": _say("for dry places"),
    "word.water.humid": _say("for humid places"),
    "word.water.washed": _say("for places washed with water"),
    "word.rust.none": _say("no protection against rust"),
    "word.rust.fresh water": _say("protects against rust from fresh water"),
    "word.rust.salt water": _say("protects against rust from salt water"),
    # oil
    "lubricant.viscosities": _say("The viscosities of the base oil do not hang together, so nothing is worked from them.",
                                  "The one at 40 °C is the greater; take both from the data sheet."),
    "lubricant.index_taken": _say("Only one viscosity is entered: the other is that of a usual mineral oil, an estimate.",
                                  "Enter the second one or the viscosity index."),
    "lubricant.generic": _say("The base oil is taken as {v40} at 40 °C, a generic {thickener} grease on {oil} oil: an estimate.",
                              "Enter both viscosities of the base oil."),
    "line.turbulent": _say("At {t} the oil would flow turbulently in a bore of {bore}: Reynolds number {reynolds}, laminar up to {limit}. "
                           "The drop that is worked is too low then.", "Use a bore of {wider} or more, a thicker oil or less delivery."),
    # mixing: warn, never approve
    "mixing.incompatible": _say("Thickeners {now} and {before} do not mix by a public table (FIST 2-4, 1990): grease may go soft or hard.", _TEST),
    "mixing.borderline": _say("Thickeners {now} and {before} are borderline in a public table (FIST 2-4, 1990).", _TEST),
    "mixing.compatible": _say("A public table (FIST 2-4, 1990) lets thickeners {now} and {before} mix, but such tables contradict each other and "
                              "know nothing of base oils and additives.", _TEST),
    "mixing.counted": _say("Charts contradict each other on {now} with {before}: of 21 compared in 2019, 12 call them compatible, 4 borderline, "
                           "5 incompatible.", _TEST),
    "mixing.contradicted": _say("One public table (FIST 2-4, 1990) calls {now} and {before} incompatible, another compatible.", _TEST),
    "mixing.unknown": _say("Nothing public is held here on mixing thickeners {now} and {before}.", _TEST),
    "mixing.same": _say("Both greases have the thickener {now}; base oils and additives may still not go together.",
                        "Ask both makers, or have a mixture tested to ASTM D6185."),
    # rules
    "bearing.set_a": _say("Interval of rolling bearings ({count}) by factor set A: six factors, editable, from memory."),
    "bearing.set_b": _say("Interval of rolling bearings ({count}) by factor set B: running temperature, shaft and size, from a bearing maker's "
                          "catalogue."),
    "bearing.two_sets": _say("Some bearings are worked by factor set A, some by B; the sets do not agree.", "Use one set for the whole system."),
    "bearing.hot": _say("{point} runs at {t}; the lubricant is good up to {limit}.",
                        "Use a lubricant with a higher limit or find out why it runs hot; the interval does not hold there."),
    "bearing.fast": _say("Bearings that turn fast for grease: {count}, {worst} most, with a speed factor of {value}, above {limit}. "
                         "Small errors of the fill matter.",
                         "Check their temperature after setting up; too much grease heats them. The bearing maker's limits come first."),
    "bearing.thin_oil": _say("Bearings whose oil is thinner than their speed asks for: {count}, at {worst} most, with a viscosity ratio "
                             "of {value}, below {limit} (formula from memory).",
                             "Check the running temperature; a thicker base oil or additives against wear may be right."),
    "chain.drip": _say("{point} gets {need} by its film. Dripping, 5 to 20 drops a minute for each strand (a public guide to chain), is far more.",
                       "State the need instead where the chain is to be oiled by drops."),
}
