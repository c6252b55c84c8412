"""Options of the whole test run, and how made-up cases are drawn: the same on every run, however slow the machine.

To look for cases that were not tried yet: pytest --hypothesis-profile=search
"""

from hypothesis import HealthCheck, settings

SLOW = (HealthCheck.too_slow,)
settings.register_profile("house", deadline=None, derandomize=True, suppress_health_check=SLOW, print_blob=True)
settings.register_profile("search", deadline=None, suppress_health_check=SLOW, print_blob=True)
settings.load_profile("house")


def pytest_addoption(parser):
    parser.addoption("--records", metavar="DIR", help="folder of public weather records for the slow tests")
    parser.addoption("--psplib", metavar="DIR", help="folder of published projects (j30/*.sm and optima.csv)")
    parser.addoption("--shots", metavar="DIR", help="where the browser tests leave pictures of the sheets, to look at")
