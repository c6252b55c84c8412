"""A pytest plugin: notes which functions each test calls and what it costs, or runs the tests of a list in order."""

import json
import os
import sys
import time

PACKAGE = f"{os.sep}src{os.sep}barkwright{os.sep}"


def pytest_addoption(parser):
    parser.addoption("--note-calls", metavar="FILE")
    parser.addoption("--pick", metavar="FILE")


def pytest_configure(config):
    if config.getoption("--note-calls"):
        config.pluginmanager.register(Calls(config.getoption("--note-calls")))


def pytest_collection_modifyitems(config, items):
    if config.getoption("--pick"):
        with open(config.getoption("--pick"), encoding="utf-8") as file:
            order = {name: at for at, name in enumerate(json.load(file))}
        items[:] = sorted((item for item in items if item.nodeid in order), key=lambda item: order[item.nodeid])


class Calls:
    """A line for each test: seconds of processor time, whether it passed, and what its setup and the test call."""

    def __init__(self, path):
        self.path, self.seen, self.calls = path, {}, {}
        self.passed, self.began = True, 0.0

    def _called(self, frame, event, arg):
        code = frame.f_code
        ours = self.seen.get(code)
        if ours is None:
            name = code.co_filename
            ours = f"{name.split(PACKAGE)[1]}:{code.co_firstlineno}" if PACKAGE in name else ""
            self.seen[code] = ours
        if ours:
            self.calls[ours] = None

    def pytest_runtest_logstart(self, nodeid):
        self.calls, self.passed, self.began = {}, True, time.process_time()
        sys.settrace(self._called)

    def pytest_runtest_call(self, item):
        self.setup = list(self.calls)

    def pytest_runtest_logreport(self, report):
        self.passed = self.passed and report.passed

    def pytest_runtest_logfinish(self, nodeid):
        sys.settrace(None)
        line = {"test": nodeid, "seconds": round(time.process_time() - self.began, 3), "passed": self.passed}
        line |= {"setup": getattr(self, "setup", []), "calls": list(self.calls)}
        with open(self.path, "a", encoding="utf-8") as file:
            print(json.dumps(line), file=file)
