"""What the organiser is told of a briefing: whether it was issued, what changed since, what nobody filled in."""

from __future__ import annotations

from models.words.briefing_parts import has_rounds
from models.words.said import Said, counted, said
from models.workshop.briefing import Facts, Reader

READER_WORDS: dict[Reader, str] = {"attendee": "attendees", "model": "models", "helper": "helpers"}
NOTHING_NEW = "Nothing changed since version {number}: nothing was issued."
MISSING: tuple[tuple[str, str], ...] = (
    ("organiser", "who the organiser is"),
    ("contact", "who is called when somebody is late or lost"),
    ("meeting", "where you meet"),
    ("talks", "who talks if you are asked to stop"),
    ("fallback", "where you go instead"),
    ("indoors", "where you meet in rain"),
    ("emergency", "the emergency number"),
    ("first_aider", "who knows first aid"),
    ("ambulance", "where an ambulance is sent to"),
    ("stations", "the stations"),
    ("weather", "the weather of the hour"),
)


def page_answer(number: int, day: str, changes: int) -> Said:
    """number: of the latest version, 0 for none; day: on which it was issued. changes: since then."""
    if not number:
        return said("", "Never issued", ": what stands below is a draft, and nobody was told anything yet.")
    latest = f"Version {number} was issued on {day}"
    if not changes:
        return said(f"{latest}; ", "nothing changed since", ".")
    things = counted(changes, "thing changed", "things changed")
    return said(f"{latest}; ", f"{things} since", ", and its readers do not know yet.")


def missing_of(facts: Facts) -> tuple[str, ...]:
    """What is not filled in yet, in words."""
    found = [words for field, words in MISSING if not getattr(facts, field)]
    return (*found, *(() if has_rounds(facts) else ("the rounds: it needs people and stations",)))


def shown_words(version: int, latest: int, *, issued: bool) -> str:
    """Which version is shown: 'version 2, the latest', 'version 3, as it would be issued now', 'a draft'."""
    if issued:
        return f"version {version}, the latest" if version == latest else f"version {version}, no longer the latest"
    return f"version {version}, as it would be issued now" if version else "a draft, as it would be issued now"
