"""Control charts: what the NIST/SEMATECH e-Handbook prints. Data only.

The pages themselves were not at hand: the figures come from several independent public test files that quote them.
"""
from tests.published.case import PUBLISHED, WORKED, Printed, Refused, Says

BOOK = "NIST/SEMATECH e-Handbook of Statistical Methods, "
INDIVIDUALS, CUSUM, EWMA = BOOK + "6.3.2.2", BOOK + "6.3.2.3", BOOK + "6.3.2.4"
FLOWRATE = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
WEIGHED = (52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
MEANS = (324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150, 328.325,
         327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350)

_WEIGHED_PRINTED = ("50.60", "49.52", "50.56", "50.18", "50.16", "49.21", "49.75", "49.85", "50.26", "50.33", "50.11", "49.36",
                    "49.52", "50.05", "49.38", "49.92", "50.73", "51.23", "51.94", "51.99")
# points 18 and 20 are printed as 14.44 and 19.04, both half a digit off: one digit more is worked from the same formula
_HIGH_PRINTED = {5: "0.03", 13: "3.01", 14: "4.94", 15: "7.45", 16: "10.63", 17: "11.99", 19: "16.00"}
_HIGH_WORKED = {18: "14.445", 20: "19.035"}
_LOW_PRINTED = {2: "0.01", 4: "0.33", 7: "0.56", 8: "0.72", 9: "0.17", 10: "0.25", 11: "0.31", 14: "0.00", 20: "0.00"}
_SUMMED = {"values": MEANS, "target": 325, "slack": 0.3175, "limit": 4.1959}
_AVERAGED = {"values": WEIGHED, "target": 50, "sd": 2.0539}


def _individuals(name, printed):
    return Printed("individuals: " + name, "trends.charts.individuals", {"values": FLOWRATE}, printed, INDIVIDUALS, PUBLISHED, (name,))


def _averaged(number, printed):
    return Printed("ewma: %d" % number, "trends.charts.ewma", _AVERAGED, printed, EWMA, PUBLISHED, ("values", number - 1))


def _summed(side, points, status):
    return tuple(Printed("cusum: %s %d" % (side, number), "trends.charts.cusum", _SUMMED, printed, CUSUM, status, (side, number - 1))
                 for number, printed in points.items())


PRINTED = (
    _individuals("centre", "50.81"), _individuals("lower", "45.8159"), _individuals("upper", "55.8041"),
    _individuals("range_mean", "1.8778"),
    # printed as 6.1349, which 3.267 times the printed mean range misses in the last digit
    _individuals("range_upper", "6.135"),
    Printed("sample standard deviation", "trends.charts.sample_sd", {"values": FLOWRATE}, "2.0339", INDIVIDUALS, WORKED),
    *(_averaged(number, printed) for number, printed in enumerate(_WEIGHED_PRINTED, 1)),
    # 52.5884 and 47.4115 are printed from a factor cut after four digits
    Printed("ewma: settled upper", "trends.charts.ewma", _AVERAGED, "52.588", EWMA, PUBLISHED, ("upper",)),
    Printed("ewma: settled lower", "trends.charts.ewma", _AVERAGED, "47.412", EWMA, PUBLISHED, ("lower",)),
    Printed("ewma: first upper", "trends.charts.ewma", _AVERAGED, "51.84851", EWMA, WORKED, ("uppers", 0)),
    *_summed("high", _HIGH_PRINTED, PUBLISHED), *_summed("high", _HIGH_WORKED, WORKED), *_summed("low", _LOW_PRINTED, PUBLISHED),
)
SAYS = (
    Says("cusum: first signal at the 14th", "trends.charts.cusum", _SUMMED, 13, CUSUM, PUBLISHED, ("signals", 0)),
)
REFUSED = (
    Refused("individuals: one reading has no range", "trends.charts.individuals", {"values": (50.0,)}, "values", INDIVIDUALS, WORKED),
)
