"""A briefing with whatever words, and what a page says, read as a browser reads it."""

from __future__ import annotations

from datetime import UTC, date, datetime
from html.parser import HTMLParser

from models.workshop.briefing import Briefing, Place, Section, Table

MARKUP = "`${1}`</style></script><img src=x onerror=document.title=1><script>alert(1)</script>"
HOSTILE = {
    "markup": MARKUP,
    "attribute": "\" onmouseover=alert(1) x='",
    "template": "{{ 7 * 7 }}{% raw %}",
    "right to left": "مساء الخير \u202eevil\u202c",
    "long": "Straßenbahnhaltestelle" * 14,
    "emoji": "👩‍👩‍👧 ☔️ 🇳🇱 e\u0301",
    "line ends": "one\r\ntwo\u2028three",
}
SKETCH = (
    '<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 276 40"><title>Map</title><text>Spot</text></svg>'
)
SPOT = Place(name="Foundry Lane", latitude_deg=52.5301, longitude_deg=5.2312)


def made(words: str, **changes: object) -> Briefing:
    """One in which these words stand wherever words stand."""
    sections = (
        Section("when", words, (words, words), (words,), Table((words, words, words), ((words, "", words),))),
        Section("where", words, sketch=True, drawings=(1, 9)),
        Section("gear", words, table=Table((words,) * 5, ((words,) * 5, (words,) * 5))),
    )
    told = {
        "reader": "attendee", "version": 2, "issued": date(2026, 10, 10), "standing": "moved", "title": words,
        "answer": words, "changes": (words, words), "sections": sections, "meeting": SPOT, "spot": SPOT,
        "starts": datetime(2026, 10, 17, 15, tzinfo=UTC), "ends": datetime(2026, 10, 17, 17, tzinfo=UTC),
        "zone": "Europe/Amsterdam",
    }  # fmt: skip
    return Briefing(**{**told, **changes})


def words_of(briefing: Briefing) -> list[str]:
    """Every line that a reader is told, in the order in which it is told."""
    told = [briefing.title, briefing.answer, *briefing.changes]
    for section in briefing.sections:
        told += [section.title, *section.paragraphs, *section.items]
        if section.table:
            told += [*section.table.head, *(cell for row in section.table.rows for cell in row)]
    return told


class Read(HTMLParser):
    """The text of a page with runs of blanks as one, its elements, and what it would load or lead to."""

    LOADS = ("src", "href", "srcset", "data", "action", "poster", "style")

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.leads: list[tuple[str, str, str]] = []
        self.handlers: list[str] = []
        self.said: list[str] = []
        self.skipped = False
        self.feed(html)

    @property
    def text(self) -> str:
        return plain(" ".join(self.said))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.skipped = tag in ("style", "script")
        self.handlers += [name for name, _ in attrs if name.startswith("on")]
        self.leads += [(tag, name, value or "") for name, value in attrs if name in self.LOADS]

    def handle_endtag(self, tag: str) -> None:
        self.skipped = False

    def handle_data(self, data: str) -> None:
        if not self.skipped:
            self.said.append(data)


def plain(text: str) -> str:
    return " ".join(text.split())
