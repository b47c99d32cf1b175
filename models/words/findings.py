"""What was found for a footprint, said first and in a sentence or two."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from models.clock import day_words
from models.rules.answers import ActivityFindings, Answer, Finding
from models.words.said import Said, listed, said

HEADS: dict[Answer, str] = {
    Answer.NOT_PERMITTED: "Recorded as not permitted",
    Answer.TOO_LATE: "Permission needed, and too late to ask for it",
    Answer.ASK_BY: "Permission needed",
    Answer.NOT_CHECKED: "Not checked",
    Answer.TOO_OLD: "Recorded too long ago",
    Answer.NO_ANSWER_YET: "Asked, no answer yet",
    Answer.GRANTED: "Granted on record",
    Answer.RECORDED_PERMITTED: "Recorded as permitted, to be confirmed",
}
COUNTED: dict[Answer, tuple[str, str]] = {
    Answer.NOT_PERMITTED: ("is recorded as not permitted", "are recorded as not permitted"),
    Answer.TOO_LATE: ("is too late to ask for", "are too late to ask for"),
    Answer.ASK_BY: ("needs permission", "need permission"),
    Answer.NOT_CHECKED: ("is not checked", "are not checked"),
    Answer.TOO_OLD: ("rests on an old record", "rest on old records"),
    Answer.NO_ANSWER_YET: ("waits for an answer", "wait for an answer"),
    Answer.GRANTED: ("is granted on record", "are granted on record"),
    Answer.RECORDED_PERMITTED: ("is to be confirmed", "are to be confirmed"),
}
"""For one, and for several."""


def findings_answer(where: str, found: Sequence[ActivityFindings], names: Mapping[str, str]) -> Said:
    """The strictest answer with what it is about, how the others stand, and the day to ask by.

    where: place and time, a sentence without its stop. names: by activity, its words.
    """
    return said(f"{where}. ") + findings_line(found, names)


def findings_line(found: Sequence[ActivityFindings], names: Mapping[str, str]) -> Said:
    """The same without place and time."""
    first = min(each.strictest.answer for each in found)
    under = [names[each.activity] for each in found if each.strictest.answer == first]
    others = [each.strictest.answer for each in found if each.strictest.answer != first]
    return said("", f"{HEADS[first]}:", f" {listed(under)}.{_besides(others)}") + _first_day(found, names)


def ask_first(found: Sequence[ActivityFindings]) -> tuple[date, tuple[str, ...]] | None:
    """The first day by which something must be asked, and the activities it is about."""
    days = {each.activity: min(filter(None, map(_asked_by, each.findings)), default=None) for each in found}
    known = {activity: day for activity, day in days.items() if day}
    if not known:
        return None
    first = min(known.values())
    return first, tuple(activity for activity, day in known.items() if day == first)


def _asked_by(finding: Finding) -> date | None:
    return finding.by if finding.answer == Answer.ASK_BY else None


def _besides(answers: Sequence[Answer]) -> str:
    parts = [f"{count} {COUNTED[answer][count > 1]}" for answer, count in sorted(Counter(answers).items())]
    return f" Besides, {listed(parts)}." if parts else ""


def _first_day(found: Sequence[ActivityFindings], names: Mapping[str, str]) -> Said:
    first = ask_first(found)
    if first is None:
        return said()
    day, activities = first
    return said(" Ask by ", day_words(day), f" about {listed([names[activity] for activity in activities])}.")


@dataclass(frozen=True, slots=True)
class OpenDays:
    """The days of what stands open. overdue: how many are past theirs, since: the first of these; by: the next one."""

    by: date | None = None
    overdue: int = 0
    since: date | None = None


def open_count_words(count: int, days: OpenDays) -> str:
    """'3 things open, the first by Friday 2 October 2026', or '3 things open, 2 of them overdue, the first since
    Friday 2 October 2026; the next by Friday 9 October 2026'."""
    if not count:
        return "nothing open on record"
    things = "1 thing open" if count == 1 else f"{count} things open"
    next_day = "" if days.by is None else day_words(days.by)
    if not days.overdue or days.since is None:
        return f"{things}, {'by' if count == 1 else 'the first by'} {next_day}" if next_day else things
    since = day_words(days.since)
    late = f"overdue since {since}" if count == 1 else (
        f"{'all' if days.overdue == count else days.overdue} of them overdue"
        f"{', since' if days.overdue == 1 else ', the first since'} {since}"
    )  # fmt: skip
    return f"{things}, {late}{f'; the next by {next_day}' if next_day else ''}"


def open_answer(where: str, strictest: Answer, count: int, days: OpenDays) -> Said:
    """The answer of a workshop: when, where, how much stands open, and the strictest of its answers."""
    things = open_count_words(count, days)
    return said(f"{where}. ", f"{things[0].upper()}{things[1:]}", f". Strictest answer: {_lower(HEADS[strictest])}.")


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
