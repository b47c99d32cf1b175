"""A briefing as a PDF, by typst: the only home of it. At most four pages and 400 kB, whatever is in it.

Tagged for readers that speak (PDF/UA-1, ISO 14289-1), with typst's own typefaces and nothing of the machine's. Words go
in as data, so that none is ever read as markup. typst is loaded when the first page is made.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
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
    Fit(size_pt=9.0, drawings=False),
    Fit(size_pt=8.5, drawings=False, letters=500, lines=40, rows=70),
    Fit(size_pt=8.5, drawings=False, letters=240, lines=40, rows=70, kept_only=True),
    Fit(size_pt=8.5, sketch=False, drawings=False, letters=120, lines=30, rows=60, kept_only=True),
)
"""Tried in turn; what the last ones leave out, the sheet says."""


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
    import typst

    sheet = Sheet(
        briefing=briefing, sketch_svg=sketch_svg, drawings=drawings or {}, qr_svg=qr_svg, link=link,
        paper=paper,
    )  # fmt: skip
    for fit in FITS:
        data, letters = sheet.laid(fit)
        if letters > MOST_LETTERS:
            continue
        compiler = typst.Compiler(_template(), ignore_system_fonts=True, sys_inputs={"data": data})
        if _pages(compiler) > MOST_PAGES:
            continue
        made = compiler.compile(_template(), format="pdf", pdf_standards=["ua-1"])
        if isinstance(made, bytes) and len(made) <= MOST_BYTES:
            return made
    raise RuntimeError("the briefing fits on no sheet")


def _pages(compiler: Any) -> int:
    found = json.loads(compiler.query("<end>", field="value", one=True))
    return int(found)


@lru_cache(maxsize=1)
def _template() -> bytes:
    return resources.files("models.exchange").joinpath("briefing.typ").read_bytes()
