"""Pages as PDF on both sizes of paper, and in a real browser's print: nothing wider or taller than the sheet."""

from __future__ import annotations

import builtins
import re
import zlib
from dataclasses import replace
from typing import Any

import pytest

from scheduler import api
from scheduler.domain.shop import A4, LETTER
from scheduler.errors import InputError
from scheduler.floor_papers import make_papers
from scheduler.papers.floor.pdf import NoPdfError, page_pdf
from scheduler.papers.floor.press_pages import press_sheets_page
from tests.papers.floor.grounds import SCENARIOS, ground

POINTS = {A4: (595, 842), LETTER: (612, 792)}


def first_run_page() -> str:
    """The press sheets of a week that has one run."""
    of = ground("solo")
    return press_sheets_page(replace(of, plan=replace(of.plan, runs=of.plan.runs[:1])), "press")


def boxes(pdf: bytes) -> set[tuple[int, int]]:
    """Widths and heights of a PDF's pages in points."""
    packed = re.findall(rb"stream\r?\n(.*?)\nendstream", pdf, re.S)  # its last byte may well be "\r"
    streams = [zlib.decompressobj().decompress(part) for part in packed if part[:1] == b"x"]
    whole = pdf + b"".join(streams)
    found = re.findall(rb"/MediaBox ?\[ ?([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) ?\]", whole)
    return {(round(float(w)), round(float(h))) for _, _, w, h in found}


@pytest.mark.parametrize("size", [A4, LETTER])
def test_a_page_is_made_on_the_size_that_is_asked_for(size: str) -> None:
    """The PDF's pages measure as A4 or Letter."""
    pdf = page_pdf(first_run_page(), size)
    assert pdf.startswith(b"%PDF-")
    assert boxes(pdf) == {POINTS[size]}


def test_every_page_to_print_comes_as_pdf_too() -> None:
    """With PDF asked for, each HTML page has one beside it, and only those."""
    inputs = api.read_week(SCENARIOS / "solo")
    week = api.build_workload(inputs).week
    plan = replace(ground("solo").plan, runs=(), orders=(), coat_batches=(), reclaims=())
    made = make_papers(inputs, week, plan, with_pdf=True)
    stems = {
        suffix: {one.name.removesuffix(suffix) for one in made if one.name.endswith(suffix)}
        for suffix in (".html", ".pdf")
    }
    assert stems[".html"] == stems[".pdf"] != set()


def test_a_page_may_ask_for_nothing_from_outside() -> None:
    """A picture from an address is not fetched while a PDF is made."""
    pdf = page_pdf('<p>x<img src="http://127.0.0.1:9/secret.png"></p>', A4)
    assert pdf.startswith(b"%PDF-")
    assert b"/Image" not in pdf


def test_without_the_library_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the PDF library is missing, the fault names the page, the command that brings it and the other way."""
    real = builtins.__import__

    def refuse(name: str, *rest: Any) -> Any:
        if name == "weasyprint":
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", refuse)
    with pytest.raises(NoPdfError, match=r"pip install"):
        page_pdf("<p>x</p>", A4)
    of = ground("solo")
    with pytest.raises(InputError, match=r"press-press-days.html: cannot be made into PDF here; run pip install"):
        make_papers(of.inputs, of.week, of.plan, with_pdf=True)
