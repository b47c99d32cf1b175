"""A briefing as a PDF, by typst: the only home of it. At most four pages and 400 kB, whatever is in it.

Tagged for readers that speak (PDF/UA-1, ISO 14289-1), with typst's own typefaces and nothing of the machine's. Words go
in as data, so that none is ever read as markup. typst is loaded when the first page is made.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import Any, Literal, get_args

from models.exchange.pdf_sheet import MOST_PAGES, Fit, Plan, Sheet
from models.workshop.briefing import Briefing

Paper = Literal["a4", "us-letter"]
PAPERS: tuple[Paper, ...] = get_args(Paper)

MOST_BYTES = 400_000
MOST_LETTERS = 36_000
"""More than four pages hold at the smallest size: not worth trying."""

FITS = (
    Fit(size_pt=10.5, dense=False, sketch_down_mm=88.0, plan_mm=70.0),
    Fit(size_pt=9.5, dense=False, sketch_down_mm=82.0, plan_mm=64.0),
    Fit(size_pt=9.0),
    Fit(size_pt=8.5, plan_mm=56.0),
    Fit(size_pt=9.0, changes=8),
    Fit(size_pt=8.5, plan_mm=56.0, changes=4),
    Fit(size_pt=9.0, drawings=False, changes=8),
    Fit(size_pt=8.5, drawings=False, changes=8, letters=500, lines=40, rows=70),
    Fit(size_pt=8.5, drawings=False, changes=8, letters=240, lines=40, rows=70, kept_only=True),
    Fit(size_pt=8.5, sketch=False, drawings=False, changes=8, letters=120, lines=30, rows=60, kept_only=True),
)
"""Tried in turn; what the last ones leave out, the sheet says. The list of changes is cut before plans are left out."""
WHOLE = 4
"""The first so many leave nothing out."""
NEARLY_EMPTY = 0.2
"""Of a page: a last one filled no further is saved where smaller letters do it."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A sheet at one fit. filled: how far down its last page goes, of the page's height."""

    compiler: Any
    pages: int
    filled: float


def briefing_pdf(
    briefing: Briefing,
    *,
    sketch_svg: str = "",
    drawings: Mapping[int, Plan] | None = None,
    qr_svg: str = "",
    link: str = "",
    paper: Paper = "a4",
) -> bytes:
    """The PDF. drawings: plans by number of the setup. qr_svg: the code of `link`, the web page, which is printed
    under it.

    The same arguments give the same bytes. Raises RuntimeError where no form of it fits, which its limits rule out.
    """
    sheet = Sheet(
        briefing=briefing, sketch_svg=sketch_svg, drawings=drawings or {}, qr_svg=qr_svg, link=link,
        paper=paper,
    )  # fmt: skip
    for number, fit in enumerate(FITS, 1):
        tried = _tried(sheet, fit)
        if tried is None:
            continue
        best = _a_page_less(sheet, tried, FITS[number:WHOLE])
        made = best.compiler.compile(_template(), format="pdf", pdf_standards=["ua-1"])
        if isinstance(made, bytes) and len(made) <= MOST_BYTES:
            return made
    raise RuntimeError("the briefing fits on no sheet")


def _a_page_less(sheet: Sheet, found: _Tried, smaller: Sequence[Fit]) -> _Tried:
    """One with fewer pages where the last of these is nearly empty, else the one found."""
    if found.pages == 1 or found.filled >= NEARLY_EMPTY:
        return found
    tries = (_tried(sheet, fit) for fit in smaller)
    return next((each for each in tries if each and each.pages < found.pages), found)


def _tried(sheet: Sheet, fit: Fit) -> _Tried | None:
    """None for one that is too long."""
    import typst

    data, letters = sheet.laid(fit)
    if letters > MOST_LETTERS:
        return None
    compiler = typst.Compiler(_template(), ignore_system_fonts=True, sys_inputs={"data": data})
    pages, filled = json.loads(compiler.query("<end>", field="value", one=True))
    return _Tried(compiler, int(pages), float(filled)) if pages <= MOST_PAGES else None


@lru_cache(maxsize=1)
def _template() -> bytes:
    return resources.files("models.exchange").joinpath("briefing.typ").read_bytes()
