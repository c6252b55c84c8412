"""A real browser without a window, and the sheets as files that it can open."""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "output"))
sys.path.insert(0, str(Path(__file__).parent))
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
QUIET = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage", "--host-resolver-rules=MAP * ~NOTFOUND",
)  # fmt: skip


@pytest.fixture(scope="session")
def browser():
    """A browser that keeps nothing and reaches nothing."""
    webdriver = pytest.importorskip("selenium.webdriver", reason="selenium is not installed")
    binary = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    driver = shutil.which("chromedriver")
    if binary is None or driver is None:
        pytest.skip("Chromium or its chromedriver is not installed")
    options = webdriver.ChromeOptions()
    options.binary_location = binary
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    with tempfile.TemporaryDirectory() as profile:
        for flag in (*QUIET, f"--user-data-dir={profile}"):
            options.add_argument(flag)
        found = webdriver.Chrome(options=options, service=webdriver.ChromeService(executable_path=driver))
        yield found
        found.quit()


@pytest.fixture(scope="session")
def axe():
    """The text of axe-core, which looks for what keeps people out."""
    package = pytest.importorskip("axe_core_python", reason="axe-core-python is not installed")
    return (Path(package.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
