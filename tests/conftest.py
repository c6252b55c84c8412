"""Options of the whole test run."""


def pytest_addoption(parser):
    parser.addoption("--records", metavar="DIR", help="folder of public weather records for the slow tests")
