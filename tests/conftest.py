"""Options of the whole suite."""


def pytest_addoption(parser):
    parser.addoption("--all-cases", action="store_true", help="all generated cases: 200 systems against the stiff solver instead of 40, "
                     "5,000 on both interpreters instead of 2,000, 400 faults to find instead of 60, "
                     "every page in both themes at both widths")
