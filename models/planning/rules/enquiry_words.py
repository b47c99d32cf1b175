"""Enquiries in words: how long ago, how long until, which days, what is named and what is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from models.clock import day_words
from models.planning.rules.rule_typed import hours_words
from models.rules.activities import ACTIVITIES
from models.rules.enquiry import EnquiryDraft
from models.words.said import Said, listed, said

REMIND_AFTER_DAYS = 10
"""An office that said nothing for so long is reminded: common practice, no source."""
NOT_NAMED = "not named"
NOT_COVERED = "not named, so none of it is covered"


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and its text; noted: somebody did note it."""

    label: str
    text: str
    noted: bool = True


def ago_words(day: date, today: date) -> str:
    """'today', 'yesterday', '12 days ago'."""
    days = (today - day).days
    if days < 0:
        return until_words(day, today)
    return "today" if days == 0 else "yesterday" if days == 1 else f"{days} days ago"


def until_words(day: date, today: date) -> str:
    """'in 4 days', 'tomorrow', 'today', '5 days over'."""
    days = (day - today).days
    if days < 0:
        return f"{-days} {'day' if days == -1 else 'days'} over"
    return "today" if days == 0 else "tomorrow" if days == 1 else f"in {days} days"


def days_words(first: date | None, last: date | None) -> str:
    """'Saturday 17 October 2026', 'Saturday 17 October 2026 to Sunday 18 October 2026', or nothing."""
    if first is None or last is None or first == last:
        return day_words(first) if first else ""
    return f"{day_words(first)} to {day_words(last)}"


def activities_words(activities: tuple[str, ...]) -> str:
    """'stand on the ground, tripod and paid teaching', or nothing."""
    return listed(tuple(ACTIVITIES[key].words for key in activities))


def needs_reminding(enquiry: EnquiryDraft, today: date) -> bool:
    """Asked long enough ago to ask again."""
    return enquiry.state == "asked" and bool(enquiry.sent_on and (today - enquiry.sent_on).days >= REMIND_AFTER_DAYS)


def age_words(enquiry: EnquiryDraft, today: date) -> str:
    """Where it stands and since when: 'sent 12 days ago, no answer yet'."""
    sent, answered = enquiry.sent_on, enquiry.answered_on
    if enquiry.state == "planned":
        return "not sent yet"
    if enquiry.state == "asked":
        return f"sent {ago_words(sent, today)}, no answer yet" if sent else "no answer yet"
    if enquiry.state == "granted" and enquiry.valid_to:
        return f"valid to {day_words(enquiry.valid_to)}" + (", which is past" if enquiry.valid_to < today else "")
    return f"answered {ago_words(answered, today)}" if answered else ""


def standing_answer(enquiry: EnquiryDraft, today: date) -> Said:
    """Where the enquiry stands and what to do next, in a sentence or two; never permission."""
    return _STANDING[enquiry.state](enquiry, today)


def named_facts(enquiry: EnquiryDraft, zone: str) -> tuple[Fact, ...]:
    """What it names, each with what it leaves open: the same list for what is asked and for what a grant covers.

    zone: the short name of that time, "CEST"; empty where it is not known.
    """
    not_named = NOT_COVERED if enquiry.state in ("planned", "asked", "granted") else NOT_NAMED
    hours = f"{hours_words((enquiry.from_time, enquiry.to_time))} {zone}".strip() if enquiry.from_time else ""
    people = f"{enquiry.people}, everybody counted" if enquiry.people else ""
    named = (
        ("Activities", activities_words(enquiry.activities)),
        ("Days", days_words(enquiry.first_day, enquiry.last_day)),
        ("Set up to packed up", hours),
        ("People", people),
    )
    return tuple(Fact(label, text or not_named, bool(text)) for label, text in named)


def answer_facts(enquiry: EnquiryDraft) -> tuple[Fact, ...]:
    """What came back, as far as anything did."""
    return tuple(Fact(label, text) for label, text in _answers(enquiry) if text)


def _answers(enquiry: EnquiryDraft) -> Iterator[tuple[str, str]]:
    yield "Sent", day_words(enquiry.sent_on) if enquiry.sent_on else ""
    yield "Answered", day_words(enquiry.answered_on) if enquiry.answered_on else ""
    yield "Reference", enquiry.reference
    yield "Valid from", day_words(enquiry.valid_from) if enquiry.valid_from else ""
    yield "Valid to", day_words(enquiry.valid_to) if enquiry.valid_to else ""
    yield "Conditions", enquiry.conditions


def _planned(enquiry: EnquiryDraft, today: date) -> Said:
    return said("Planned, ", "not sent yet", f". Send it to {enquiry.to_whom}, then note here that you asked.")


def _asked(enquiry: EnquiryDraft, today: date) -> Said:
    since = f"Sent {ago_words(enquiry.sent_on, today)}" if enquiry.sent_on else "Sent"
    again = f" Ask {enquiry.to_whom} again." if needs_reminding(enquiry, today) else ""
    return said(f"{since}, ", "no answer yet", f".{again}")


def _granted(enquiry: EnquiryDraft, today: date) -> Said:
    reference = f", reference {enquiry.reference}" if enquiry.reference else ", no reference noted"
    if enquiry.valid_to and enquiry.valid_to < today:
        return said(
            "", "Granted", f"{reference}, but ", "no longer valid", f": it ran to {day_words(enquiry.valid_to)}."
        )
    return said("", "Granted", f"{reference}. It covers what stands below and nothing else: carry it with you.")


def _refused(enquiry: EnquiryDraft, today: date) -> Said:
    when = f" {ago_words(enquiry.answered_on, today)}" if enquiry.answered_on else ""
    return said(
        "", "Refused", f"{when} by {enquiry.to_whom}. Another place, another day or a smaller group is a new question."
    )


def _withdrawn(enquiry: EnquiryDraft, today: date) -> Said:
    return said("", "Withdrawn", ". It answers nothing any more.")


def _lapsed(enquiry: EnquiryDraft, today: date) -> Said:
    return said("", "Lapsed", ". It answers nothing any more: ask anew.")


_STANDING = {
    "planned": _planned,
    "asked": _asked,
    "granted": _granted,
    "refused": _refused,
    "withdrawn": _withdrawn,
    "lapsed": _lapsed,
}
