"""The forms that are files: calendar, table and PDF on standard output, in files, and where they cannot be had."""

from __future__ import annotations

import base64
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from barkwright.cli.main import main
from barkwright.output import pdf

YARD = str(Path(__file__).parents[2] / "examples" / "yard-tree.yaml")
ON = ("--on", "2026-11-25")
HEADS = {"pieces": "id,tree,kind,", "jobs": "id,tree,pieces,", "costs": "what,"}
DOT = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg=="  # one pixel


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


def test_a_calendar_keeps_its_line_ends_in_a_file_and_on_standard_output(tmp_path):
    written = tmp_path / "yard.ics"
    assert run("order", YARD, *ON, "--format", "ics", "-o", str(written)).exit_code == 0
    printed = run("order", YARD, *ON, "--format", "ics").stdout_bytes
    assert written.read_bytes() == printed
    assert printed.count(b"\n") == printed.count(b"\r\n") > 50


def test_a_table_in_a_file_opens_with_the_sign_of_its_letters(tmp_path):
    written = tmp_path / "pieces.csv"
    assert run("tally", YARD, *ON, "--format", "csv", "-o", str(written)).exit_code == 0
    printed = run("tally", YARD, *ON, "--format", "csv").stdout
    assert written.read_text(encoding="utf-8") == "\ufeff" + printed
    assert printed.startswith("id,tree,kind,")


@pytest.mark.parametrize("table", HEADS)
def test_a_table_of_the_order_is_asked_for_by_name(table):
    assert run("order", YARD, *ON, "--format", "csv", "--table", table).stdout.startswith(HEADS[table])


def test_a_table_is_of_a_table_form():
    done = run("order", YARD, *ON, "--table", "jobs")
    assert done.exit_code == 2
    assert "--table goes with --format csv" in done.stderr


def test_a_pdf_is_not_written_to_a_terminal():
    outer, inner = pty.openpty()
    code = f"import sys; from barkwright.cli.main import main; main(['tally', {YARD!r}, '--format', 'pdf'])"
    done = subprocess.run([sys.executable, "-c", code], stdout=inner, stderr=subprocess.PIPE, text=True, check=False)
    os.close(inner)
    os.close(outer)
    assert done.returncode == 2
    assert "a PDF is not for a terminal" in done.stderr
    assert "-o FILE" in done.stderr


@pytest.mark.parametrize("fault", [ImportError("no module"), OSError("cannot load library 'libpango-1.0-0'")])
def test_without_its_library_a_pdf_is_refused_before_planning(monkeypatch, tmp_path, fault):
    def fails(name):
        raise fault

    monkeypatch.setattr(pdf, "import_module", fails)
    written = tmp_path / "yard.pdf"
    done = run("order", YARD, *ON, "--format", "pdf", "-o", str(written))
    assert done.exit_code == 1
    assert "PDF needs" in done.stderr
    assert "barkwright[pdf]" in done.stderr
    assert "from any browser" in done.stderr
    assert "planning" not in done.stderr
    assert not written.exists()


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_the_same_page_gives_the_same_pdf(tmp_path):
    try:
        pdf.library()
    except pdf.NoPdfError as fault:
        pytest.skip(str(fault))
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    for written in (one, two):
        assert run("order", YARD, *ON, "--format", "pdf", "-o", str(written)).exit_code == 0
    assert one.read_bytes() == two.read_bytes()
    assert one.read_bytes().startswith(b"%PDF-")


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_a_pdf_takes_in_nothing_from_outside_its_page(monkeypatch, tmp_path):
    try:
        library = pdf.library()
    except pdf.NoPdfError as fault:
        pytest.skip(str(fault))
    dot = tmp_path / "dot.png"
    dot.write_bytes(base64.b64decode(DOT))
    page = f'<img src="{dot.as_uri()}">'
    assert b"/Image" in library.HTML(string=page).write_pdf()
    monkeypatch.setattr(pdf, "html", lambda _: page)
    assert b"/Image" not in pdf.render(None)
