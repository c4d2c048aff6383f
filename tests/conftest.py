"""Options of the whole suite."""


def pytest_addoption(parser):
    parser.addoption("--all-cases", action="store_true", help="all generated cases against the stiff solver: 200 instead of 40")
