"""Every sheet opened in a real browser: on a phone, at a desk and on paper. Pictures to look at: --shots=DIR."""

from __future__ import annotations

import base64
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from sheets import SHEETS, sheet

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("default")]
PHONE, DESK = 360, 1280  # px
PAPER = {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}  # in
MARGIN = 14 / 25.4  # in, of the page's own style
PX = 96  # to the inch
BEYOND = """
const edge = document.documentElement.clientWidth;
return [...document.body.querySelectorAll('*')].filter(one => {
  const head = one.closest('thead');
  if (head && getComputedStyle(head).position === 'absolute') return false;  // read aloud, not shown
  const box = one.getBoundingClientRect();
  return box.width > 0 && (box.right > edge + 0.5 || box.left < -0.5 || one.scrollWidth > one.clientWidth + 1
    && getComputedStyle(one).display !== 'inline' && !one.closest('svg'));
}).map(one => one.outerHTML.slice(0, 120));
"""


@pytest.fixture(params=SHEETS, ids=["-".join(which) for which in SHEETS])
def opened(request, browser, tmp_path):
    """A sheet in the browser, and where pictures of it go."""
    browser.get_log("browser")  # what an earlier sheet left
    path = tmp_path / "sheet.html"
    path.write_text(sheet(*request.param), encoding="utf-8")
    browser.get(path.as_uri())
    kept = request.config.getoption("--shots")
    return browser, "-".join(request.param), Path(kept) if kept else None


def seen_at(browser, width: int, medium: str = "screen") -> None:
    size = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width == PHONE}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": medium})


def keep_picture(browser, shots: Path | None, name: str) -> None:
    if shots is not None:
        shot = browser.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True, "format": "png"})
        (shots / f"{name}.png").write_bytes(base64.b64decode(shot["data"]))


def test_it_opens_without_a_word_on_the_console(opened):
    browser, _, _ = opened
    assert browser.get_log("browser") == []
    assert browser.execute_script("return document.scripts.length") == 0
    assert browser.execute_script("return performance.getEntriesByType('resource').length") == 0


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_nothing_runs_over_the_edge_of_a_screen(opened, width):
    browser, name, shots = opened
    seen_at(browser, width)
    keep_picture(browser, shots, f"{name}-{width}")
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    assert browser.execute_script(BEYOND) == []


@pytest.mark.parametrize("paper", PAPER)
def test_nothing_runs_over_the_edge_of_paper(opened, paper, tmp_path):
    browser, name, shots = opened
    width, height = PAPER[paper]
    seen_at(browser, int((width - 2 * MARGIN) * PX), "print")
    assert browser.execute_script(BEYOND) == []
    asked = {"paperWidth": width, "paperHeight": height, "preferCSSPageSize": True, "printBackground": True}
    written = tmp_path / f"{name}-{paper}.pdf"
    written.write_bytes(base64.b64decode(browser.execute_cdp_cmd("Page.printToPDF", asked)["data"]))
    if shots is not None:
        shutil.copy(written, shots)
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed: what is on the pages was not read")
    command = ["pdftotext", "-bbox", str(written), "-"]
    pages = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("<page ")[1:]
    left, right, foot = MARGIN * 72 - 1, (width - MARGIN) * 72 + 1, height * 72
    for page in pages:
        words = re.findall(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">', page)
        assert len(words) > 3, "a page with nothing but its number"
        boxes = [tuple(map(float, word)) for word in words]
        assert [box for box in boxes if box[0] < left or box[2] > right or box[1] < 0 or box[3] > foot] == []


def test_axe_finds_nothing_serious(opened, axe):
    browser, _, _ = opened
    for width in (PHONE, DESK):
        seen_at(browser, width)
        browser.execute_script(axe)
        found = browser.execute_async_script("axe.run().then(arguments[arguments.length - 1])")
        serious = [(one["id"], one["help"], one["nodes"][0]["html"]) for one in found["violations"]
                   if one["impact"] in ("serious", "critical")]  # fmt: skip
        assert serious == [], json.dumps(serious, indent=1)


def test_the_checks_see_what_they_look_for(browser, axe, tmp_path):
    path = tmp_path / "bad.html"
    phone = '<meta name="viewport" content="width=device-width">'
    path.write_text(f'{phone}<p style="width:40rem;color:#ddd">pale</p><img src="no.png">', encoding="utf-8")
    browser.get(path.as_uri())
    seen_at(browser, PHONE)
    assert browser.get_log("browser") != []
    assert len(browser.execute_script(BEYOND)) == 1
    assert browser.execute_script("return document.documentElement.scrollWidth") > PHONE
    browser.execute_script(axe)
    found = browser.execute_async_script("axe.run().then(arguments[arguments.length - 1])")
    assert {"color-contrast", "image-alt"} <= {one["id"] for one in found["violations"]}
