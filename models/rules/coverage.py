"""What a grant or a question covers of a footprint, and who else controls two places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from models.clock import day_words
from models.rules.activities import ACTIVITIES
from models.rules.areas import Area
from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Footprint
from models.rules.hours import Span, fills


def differences(enquiry: EnquiryDraft, footprint: Footprint, activity: str = "") -> tuple[str, ...]:
    """What of the footprint, and of this activity if one is given, the enquiry does not cover, in words.

    What it does not name it does not cover. The number of people is everyone standing there, whichever the activity.
    """
    own = unnamed(enquiry, activity) if activity else ()
    return (*own, *_days(enquiry, footprint.day), *_hours(enquiry, footprint), *_people(enquiry, footprint.doing.group))


def unnamed(enquiry: EnquiryDraft, activity: str) -> tuple[str, ...]:
    """The difference that an activity makes which the enquiry does not name."""
    return () if activity in enquiry.activities else (f"it does not name {ACTIVITIES[activity].words}",)


def same_guard(
    areas_a: Sequence[Area], areas_b: Sequence[Area], controller_a: str = "", controller_b: str = ""
) -> tuple[str, ...]:
    """Names of the areas, then of those who control them, that two places share; () where none is known to be."""
    shared = {area.id for area in areas_a} & {area.id for area in areas_b}
    names = [area.name for area in sorted(areas_a, key=lambda area: (area.name, area.id)) if area.id in shared]
    who_a, who_b = _who(areas_a, controller_a), _who(areas_b, controller_b)
    names += [who_a[key] for key in sorted(who_a.keys() & who_b.keys())]
    return tuple(dict.fromkeys(names))


def _days(enquiry: EnquiryDraft, day: date) -> Iterator[str]:
    you = f"you come on {day_words(day)}"
    first, last = enquiry.first_day, enquiry.last_day
    if first is None or last is None:
        yield f"it names no {'days' if first == last else 'last day' if first else 'first day'}, {you}"
    elif not first <= day <= last:
        days = day_words(first) if first == last else f"{day_words(first)} to {day_words(last)}"
        yield f"it covers {days}, {you}"
    if enquiry.valid_from and day < enquiry.valid_from:
        yield f"it is valid from {day_words(enquiry.valid_from)}, {you}"
    if enquiry.valid_to and day > enquiry.valid_to:
        yield f"it is valid to {day_words(enquiry.valid_to)}, {you}"


def _hours(enquiry: EnquiryDraft, footprint: Footprint) -> Iterator[str]:
    over = f" on {day_words(footprint.ends.date())}" if footprint.ends.date() != footprint.day else ""
    you = f"you are there {footprint.starts:%H:%M} to {footprint.ends:%H:%M}{over}"
    if enquiry.from_time is None or enquiry.to_time is None:
        yield f"it names no hours from set-up to packed up, {you}"
        return
    span = Span(
        first_day=enquiry.first_day,
        last_day=enquiry.last_day,
        from_time=enquiry.from_time,
        to_time=enquiry.to_time,
    )
    if not span.has_day(footprint.day):
        span = replace(span, first_day=None, last_day=None)
    if not fills(span, footprint):
        yield f"it covers {enquiry.from_time:%H:%M} to {enquiry.to_time:%H:%M}, {you}"


def _people(enquiry: EnquiryDraft, people: int) -> Iterator[str]:
    if enquiry.people is None:
        yield f"it names no number of people, you are {people}"
    elif people > enquiry.people:
        yield f"it covers {enquiry.people} {'person' if enquiry.people == 1 else 'people'}, you are {people}"


def _who(areas: Sequence[Area], controller: str) -> dict[str, str]:
    """By a form in which spelling matters little, the names as written."""
    names = (*(area.authority for area in areas), controller)
    return {" ".join(name.casefold().split()): name.strip() for name in names if name.strip()}
