"""What stands on a printed briefing, as the template takes it: cut to fit, every sign one that can be printed."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import sqrt
from typing import Any

from models.drawing.inked import inked
from models.exchange.glyphs import MISSING, drawn, lacks, printable, signs
from models.words.briefing_parts import standing_words, version_words
from models.words.paper import (
    CHANGED,
    CODE_WORDS,
    CUT,
    LEFT_OUT,
    PAGES,
    SKETCH_WORDS,
    WHOSE,
    left_out_words,
    missing_words,
    undrawn_words,
    version_line,
)
from models.workshop.briefing import Briefing, Section, Table

MOST_PAGES = 4
FAMILIES = "Libertinus Serif, DejaVu Sans Mono"
SKETCH_MM = (50.0, 82.0)
"""The least and the most room of the map sketch across; with the least its letters are 6.7 points."""
TOGETHER_LETTERS, TOGETHER_LINES = 800, 14
"""A section with no more letters and lines is not parted by the end of a page."""
SHORT_ITEM, FEWEST_PAIRED = 42, 4
"""Lists of so short items, and so many of them, stand in two columns."""
NARROW_CELL, BROAD_COLUMNS = 14, 4
"""A column whose cells all have so few letters is as narrow as they are; a table of so many columns takes the whole
width of the sheet."""
TITLE_LETTERS, FOOT_LETTERS = 160, 60
FEW_CHANGES = 5
"""So many stand before the answer; more come after it."""
KEPT = ("when", "where", "call", "safety", "stopped", "breaks")
"""Sections that are never left out, by key."""

_LINK_PIECE = r"[^/]{1,16}/*|/+"
_VIEW = re.compile(r'viewBox="\S+ \S+ ([\d.]+) ([\d.]+)"')


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of a setup as SVG, the setup's name, and what is said beside it."""

    svg: str
    name: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How a briefing is made to keep to its pages: the size of the letters in points, whether drawings and sketch are
    in it, the most letters of a text, texts of a list, rows of a table, changes told, whether
    only the sections of KEPT are."""

    size_pt: float
    dense: bool = True
    drawings: bool = True
    sketch: bool = True
    sketch_down_mm: float = 75.0
    plan_mm: float = 60.0
    letters: int = 100_000
    lines: int = 1_000
    rows: int = 1_000
    changes: int = 1_000
    kept_only: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """As models.exchange.pdf.briefing_pdf takes it."""

    briefing: Briefing
    sketch_svg: str
    drawings: Mapping[int, Plan]
    qr_svg: str
    link: str
    paper: str

    def laid(self, fit: Fit) -> tuple[str, int]:
        """JSON for the template, and how many letters of text are in it."""
        cutting = _Cutting(self, fit)
        return json.dumps(cutting.whole()), cutting.letters


@dataclass(slots=True)
class _Cutting:
    """One sheet at one fit. lost: what was left out, by key of LEFT_OUT. gone: titles of sections left out."""

    sheet: Sheet
    fit: Fit
    lost: dict[str, None] = field(default_factory=dict)
    gone: list[str] = field(default_factory=list)
    lacking: bool = False
    letters: int = 0

    def whole(self) -> dict[str, Any]:
        sheet, briefing = self.sheet, self.sheet.briefing
        has_code = bool(sheet.qr_svg and sheet.link)
        whose = f"{WHOSE[briefing.reader]}. {version_words(briefing)}"
        title = self.text(briefing.title, TITLE_LETTERS) or WHOSE[briefing.reader]
        foot = (printable(_cut(briefing.title, FOOT_LETTERS)), WHOSE[briefing.reader], version_line(briefing.version))
        return {
            "paper": sheet.paper,
            "lang": "en",
            "size": self.fit.size_pt,
            "dense": self.fit.dense,
            "title": title,
            "foot": " · ".join(foot),
            "pages": PAGES,
            "whose": whose,
            "standing": self.text(standing_words(briefing)),
            "changed": CHANGED,
            "changes": self.lines(self.shortened(briefing.changes, self.fit.changes, CUT, "changes")),
            "changes_first": len(briefing.changes) <= FEW_CHANGES,
            "answer": self.text(briefing.answer),
            "code": signs(sheet.qr_svg) if has_code else "",
            "code_words": CODE_WORDS,
            "link": sheet.link,
            "link_pieces": re.findall(_LINK_PIECE, signs(sheet.link)),
            "parts": [part for section in briefing.sections for part in self.parts(section)],
            "notes": self.notes(has_code),
        }

    def parts(self, section: Section) -> list[dict[str, Any]]:
        """The section, or nothing where it is left out."""
        if self.fit.kept_only and section.key not in KEPT:
            self.gone.append(self.text(section.title, TITLE_LETTERS) or CUT)
            return []
        paragraphs, items = self.lines(tuple(filter(str.strip, section.paragraphs))), self.lines(section.items)
        table = self.table(section.table) if section.table else None
        drawings, below = self.plans(section.drawings)
        part = {
            "title": self.text(section.title, TITLE_LETTERS) or CUT,
            "paragraphs": paragraphs,
            "items": items,
            "pairs": len(items) >= FEWEST_PAIRED and max(map(len, items)) <= SHORT_ITEM,
            "table": table,
            "sketch": self.sketch() if section.sketch else None,
            "drawings": drawings,
            "below": below,
            "plan_width": self.fit.plan_mm,
            "together": _is_short([*paragraphs, *items, *(" ".join(row) for row in (table["rows"] if table else ()))]),
        }
        return [part]

    def text(self, words: str, letters: int | None = None) -> str:
        most = self.fit.letters if letters is None else min(letters, self.fit.letters)
        self.lacking = self.lacking or lacks(words)
        if len(words) > most:
            self.lost["letters"] = None
            words = _cut(words, most)
        self.letters += len(words)
        return printable(words)

    def lines(self, many: Sequence[str]) -> list[str]:
        """Texts under one another; a list that is cut ends in CUT."""
        return [self.text(each) for each in self.shortened(many, self.fit.lines, CUT)]

    def shortened(self, many: Sequence[Any], most: int, end: Any, what: str = "lines") -> Sequence[Any]:
        if len(many) <= most:
            return many
        self.lost[what] = None
        return [*many[: most - 1], end]

    def table(self, table: Table) -> dict[str, Any]:
        count = len(table.head)
        rows = self.shortened(table.rows, self.fit.rows, (CUT,))
        told = [[self.text(cell) for cell in (*row, *[""] * count)[:count]] for row in rows]
        head = [self.text(cell) for cell in table.head]
        columns = [_share([row[k] for row in (head, *told)]) for k in range(count)]
        if not any(columns):
            columns[-1] = 1.0
        return {"head": head, "rows": told, "columns": columns, "broad": count >= BROAD_COLUMNS}

    def sketch(self) -> dict[str, Any] | None:
        svg = self.sheet.sketch_svg
        if not svg:
            return None
        if not self.fit.sketch:
            self.lost["sketch"] = None
            return None
        view = _VIEW.search(svg)
        least, most = SKETCH_MM
        width = self.fit.sketch_down_mm * float(view[1]) / float(view[2]) if view else most
        return {"svg": _drawn(svg), "width": max(least, min(most, width)), "name": SKETCH_WORDS}

    def plans(self, setups: Sequence[int]) -> tuple[list[dict[str, Any]], list[str]]:
        """The plans of setups; then what is said once for all of them, and of those that are missing."""
        found = [self.sheet.drawings[setup] for setup in setups if setup in self.sheet.drawings]
        missing = len(setups) - len(found)
        below = [undrawn_words(missing)] if missing else []
        if not found:
            return [], below
        if not self.fit.drawings:
            self.lost["drawings"] = None
            return [], below
        common = [words for words in found[0].words if all(words in each.words for each in found)]
        shared = [words for words in common if words.endswith(".")] if len(found) > 1 else []
        told = [
            {
                "svg": _drawn(each.svg),
                "name": self.text(each.name, TITLE_LETTERS),
                "words": self.lines([words for words in each.words if words not in shared]),
            }
            for each in found
        ]
        return told, [*map(self.text, shared), *below]

    def notes(self, has_page: bool) -> list[str]:
        what = [LEFT_OUT[each] for each in self.lost]
        left_out = left_out_words(what, self.gone, MOST_PAGES, has_page=has_page)
        return list(filter(None, (left_out, missing_words(MISSING) if self.lacking else "")))


@lru_cache(maxsize=16)
def _drawn(svg: str) -> str:
    """Kept for a while: every way of fitting the pages draws the same."""
    return drawn(inked(svg, FAMILIES))


def _cut(words: str, most: int) -> str:
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}{CUT}"


def _is_short(texts: Sequence[str]) -> bool:
    return len(texts) <= TOGETHER_LINES and sum(map(len, texts)) <= TOGETHER_LETTERS


def _share(cells: Sequence[str]) -> float:
    """0 for a column as narrow as its cells, else its share of the room: short ones get more than by letters alone."""
    longest = max(map(len, cells))
    return 0.0 if longest <= NARROW_CELL else round(sqrt(min(longest, 120)), 2)
