"""Briefings made by hand, and what a PDF of them says when it is read by another library."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from pypdf import PdfReader

from models.drawing.svg import Sheet
from models.exchange.pdf_sheet import Plan
from models.workshop.briefing import Briefing, Place, Section, Table

STARTS = datetime(2026, 10, 17, 14, 22, tzinfo=UTC)
SPOT = Place(name="Foundry Lane", latitude_deg=52.5304, longitude_deg=5.23162)
TIMETABLE = Table(
    ("From", "To", "What"),
    (("16:22", "16:32", "Meet"), ("16:45", "17:00", "Set up"), ("17:05", "17:15", "Round 1"), ("17:57", "", "Over")),
)
STATIONS = Table(
    ("Station", "Setup", "Start at", "Lights"), (("A", "Single gridded key", "1/200 s, f/10, ISO 200", "key 1/4"),)
)
HOSTILE = {
    "code": '#eval("1+1") #panic() #read("/etc/hostname") ${1}',
    "marks": "*bold* _italic_ $x^2$ `raw` <label> @ref [content] = head\n- item\n+ item\n/ term: x",
    "backslashes": "\\\\ \\u{41} \\n C:\\lane // no comment /* neither */",
    "quotes": "\"it's\" 'so' -- --- ... ~ </svg><script>alert(1)</script>&amp;",
    "from the right": "\u202eשלום רחוב 12 \u0627\u0644\u0633\u0648\u0642 7:30",
    "no letters": "\x00\x07\u200b\u2028\ud800"[:4],
    "emoji": "🏳️‍🌈 👩🏽‍🚒 café 漢字",
    "long": "W" * 300,
    "long sentence": "lane " * 120,
}


def told(**changes: object) -> Briefing:
    """A briefing of three sections, with a table, a sketch and drawings."""
    usual = Briefing(
        reader="helper",
        version=2,
        issued=date(2026, 10, 10),
        standing="on",
        title="Afternoon in the lane",
        answer="Saturday 17 October 2026: be there at 16:22 CEST, Market Square.",
        changes=("Meet 15 minutes earlier: 16:22 CEST, it was 16:37 CEST.",),
        sections=(
            Section("when", "When", ("Times are local (CEST).",), table=TIMETABLE),
            Section("where", "Where", ("Past the pump.",), ("Spot: Foundry Lane, 52.53040, 5.23162",), sketch=True),
            Section("gear", "Stations and their setups", ("Light holds.",), ("Raw",), STATIONS, (4, 9)),
            Section("call", "Who to call", items=("Emergency number: 112", "Late, lost or ill: call: 0555 0100")),
        ),
        meeting=None,
        spot=SPOT,
        starts=STARTS,
        ends=STARTS + timedelta(hours=2),
        zone="Europe/Amsterdam",
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def named(name: str) -> Briefing:
    """The same with this name wherever somebody types one."""
    section = Section(
        "gear", name, (name, f"At {name}, 16:22."), (name, name), Table(("Station", name), ((name, name),))
    )
    return told(title=name, answer=f"{name}: 16:22 CEST.", changes=(name,), sections=(*told().sections, section))


def drawing(words: str = "key", lines: int = 3) -> str:
    """An SVG as models.drawing makes them."""
    sheet = Sheet("narrow", "test")
    for line in range(lines):
        sheet.text(words, 2, 20 + 18 * line, bold=not line)
    return sheet.finish(20 + 18 * lines, f"Plan of {words}", "")


PLANS = {
    4: Plan(drawing(), "Single gridded key", ("key: 1 o'clock", "Look first.")),
    9: Plan(drawing(), "Dish", ("Look first.",)),
}


def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


def text_of(pdf: bytes) -> str:
    return plain(" ".join(page.extract_text() for page in reader(pdf).pages))


def plain(words: str) -> str:
    """Letters only, as they come: no spaces, no marks of direction, since lines may end anywhere."""
    return re.sub(r"[\s\u200b\u200e]", "", words)


def words_of(briefing: Briefing) -> list[str]:
    """Everything that a briefing says."""
    said = [briefing.title, briefing.answer, *briefing.changes]
    for section in briefing.sections:
        table = section.table or Table((), ())
        cells = [cell for row in (table.head, *table.rows) for cell in row]
        said += [section.title, *section.paragraphs, *section.items, *cells]
    return said
