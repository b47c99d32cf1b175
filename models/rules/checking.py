"""Areas, rules, enquiries, papers and workshops as typed or read, checked before they are kept.

Each `checked_...` hands the draft back tidied, or raises InputProblem naming the field.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import fields, replace
from datetime import date, datetime, time, timedelta
from typing import Any, TypeVar
from urllib.parse import urlsplit

from models.clock import FIRST_YEAR, LAST_YEAR, day_words
from models.problems import InputProblem
from models.rules import areas, enquiry, papers, rule
from models.rules.activities import ACTIVITIES
from models.rules.areas import AreaDraft
from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Doing
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.rules.shapes import checked_shape
from models.rules.working_days import calendar_of
from models.rules.workshop import WorkshopDraft
from models.street.spot import LONGEST_NAME, LONGEST_NOTE, readable

Draft = TypeVar("Draft", AreaDraft, RuleDraft, EnquiryDraft, PaperDraft, WorkshopDraft)
LONGEST_ADDRESS = 2000
MOST_LEAD_DAYS = 730
MOST_PEOPLE = 10_000
MOST_OF_A_KIND = 1000
LEAST_WIDTH_M, WIDEST_M = 0.1, 200.0
LONGEST_WORKSHOP = timedelta(hours=24)
NAMES = frozenset({"name", "title", "to_whom", "authority", "source_title", "read_by", "reference"})
"""Texts of one line; all others may be notes."""


def checked_area(draft: AreaDraft) -> AreaDraft:
    tidy = _tidied(draft)
    _given("name", tidy.name, "give the area a name")
    _given("authority", tidy.authority, "say who controls it")
    _one_of("kind", tidy.kind, areas.KINDS)
    _link("web", tidy.web)
    _truth("no_passing", tidy.no_passing)
    calendar_of(tidy.holidays)
    return replace(tidy, shape=checked_shape(draft.shape))


def checked_rule(draft: RuleDraft, *, today: date | None = None) -> RuleDraft:
    """today: where it is typed; then a date checked that is still to come is refused."""
    tidy = _tidied(draft)
    _one_place(tidy.area_id, tidy.spot_id)
    _one_of("activity", tidy.activity, ACTIVITIES)
    _one_of("found", tidy.found, rule.FOUND)
    _given("source_title", tidy.source_title, "name the source: a by-law, a page, or who said it")
    _link("source_link", tidy.source_link)
    _truth("spoken", tidy.spoken)
    _truth("lead_working", tidy.lead_working)
    if tidy.over is not None:
        _whole("over", tidy.over, 0, MOST_PEOPLE)
        if not ACTIVITIES[tidy.activity].counted:
            raise InputProblem("over", f"{ACTIVITIES[tidy.activity].words} is not counted; leave it empty")
    if tidy.width_min_m is not None:
        _within("width_min_m", tidy.width_min_m, LEAST_WIDTH_M, WIDEST_M, "metres")
    if tidy.lead_days is not None:
        _whole("lead_days", tidy.lead_days, 0, MOST_LEAD_DAYS)
    if tidy.found == "conditions":
        _given("conditions", tidy.conditions, "say what the conditions are")
    _hours(tidy.from_time, tidy.to_time)
    if tidy.from_time is not None and tidy.from_time == tidy.to_time:
        raise InputProblem("to_time", "the hours begin when they end; leave both empty for all day")
    _days("first_day", tidy.first_day, "last_day", tidy.last_day)
    _happened("checked_on", tidy.checked_on, today)
    _days("checked_on", tidy.checked_on, "check_again", tidy.check_again)
    for day in _row("weekdays", tidy.weekdays):
        _whole("weekdays", day, 0, 6)
    return replace(tidy, weekdays=tuple(sorted(set(tidy.weekdays))))


def checked_enquiry(draft: EnquiryDraft, *, today: date | None = None) -> EnquiryDraft:
    """A first day without a last one is that day alone. today: where it is typed; nothing can be sent after it."""
    tidy = _tidied(draft)
    _given("to_whom", tidy.to_whom, "say who is asked")
    _one_place(tidy.area_id, tidy.spot_id)
    if tidy.workshop_id is not None:
        _number("workshop_id", tidy.workshop_id)
    for activity in _row("activities", tidy.activities):
        _one_of("activities", activity, ACTIVITIES)
    _one_of("state", tidy.state, enquiry.STATES)
    if tidy.people is not None:
        _whole("people", tidy.people, 1, MOST_PEOPLE)
    _hours(tidy.from_time, tidy.to_time)
    if tidy.first_day is None and tidy.last_day is not None:
        raise InputProblem("first_day", "give the first day too")
    last = tidy.last_day or tidy.first_day
    _days("first_day", tidy.first_day, "last_day", last)
    _days("valid_from", tidy.valid_from, "valid_to", tidy.valid_to)
    _dates_of_state(tidy, today)
    return replace(tidy, last_day=last, activities=tuple(key for key in ACTIVITIES if key in tidy.activities))


def checked_paper(draft: PaperDraft) -> PaperDraft:
    tidy = _tidied(draft)
    _one_of("kind", tidy.kind, papers.KINDS)
    _given("title", tidy.title, "give the paper a title")
    _days("valid_from", tidy.valid_from, "valid_to", tidy.valid_to)
    for field in ("covers_teaching", "covers_models"):
        if getattr(tidy, field) is not None:
            _truth(field, getattr(tidy, field))
    if tidy.count is not None:
        _whole("count", tidy.count, 0, MOST_PEOPLE)
    return tidy


def checked_workshop(draft: WorkshopDraft) -> WorkshopDraft:
    tidy = _tidied(draft)
    _given("title", tidy.title, "give the workshop a title")
    _number("spot_id", tidy.spot_id)
    _truth("called_off", tidy.called_off)
    for field in ("starts", "ends"):
        _instant(field, getattr(tidy, field))
    if tidy.ends <= tidy.starts:
        raise InputProblem("ends", "packing up ends after setting up begins")
    if tidy.ends - tidy.starts > LONGEST_WORKSHOP:
        raise InputProblem("ends", "lasts longer than a day: make it two workshops")
    _doing(tidy.doing)
    if tidy.width_left_m is not None:
        _within("width_left_m", tidy.width_left_m, 0.0, WIDEST_M, "metres")
    if tidy.fallback_spot_id is not None:
        _number("fallback_spot_id", tidy.fallback_spot_id)
        if tidy.fallback_spot_id == tidy.spot_id:
            raise InputProblem("fallback_spot_id", "is the spot itself; choose another one, or none")
    if tidy.meeting_point is not None:
        _point(tidy.meeting_point)
    return tidy


def _tidied(draft: Draft) -> Draft:
    """Its texts trimmed, one-line ones to single spaces."""
    texts = {field.name: getattr(draft, field.name) for field in fields(draft) if field.type == "str"}
    tidy = {name: _text(name, value) for name, value in texts.items()}
    return replace(draft, **tidy)  # type: ignore[arg-type]


def _text(field: str, value: Any) -> str:
    text = readable(field, value).strip()
    if field in NAMES:
        text = " ".join(text.split())
    longest = LONGEST_NAME if field in NAMES else LONGEST_ADDRESS if field in ("web", "source_link") else LONGEST_NOTE
    if len(text) > longest:
        raise InputProblem(field, f"{len(text)} characters; at most {longest}")
    if any(ord(letter) < 32 and letter not in "\t\r\n" for letter in text):
        raise InputProblem(field, "holds a control character; type it again without")
    return text


def _given(field: str, text: str, message: str) -> None:
    if not text:
        raise InputProblem(field, message)


def _one_of(field: str, value: Any, known: Collection[str]) -> None:
    if not isinstance(value, str) or value not in known:
        raise InputProblem(field, f"{str(value)[:40]!r} is not known; choose {', '.join(known)}")


def _row(field: str, value: Any) -> tuple[Any, ...]:
    if not isinstance(value, tuple):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a list")
    return value


def _link(field: str, text: str) -> None:
    """Pages make links of these: nothing but the web's own addresses."""
    try:
        parts = urlsplit(text)
        good = parts.scheme in ("http", "https") and bool(parts.hostname) and not any(map(str.isspace, text))
    except ValueError:
        good = False
    if text and not good:
        raise InputProblem(field, "is not a web address; write it like https://council.example/streets")


def _truth(field: str, value: Any) -> None:
    if not isinstance(value, bool):
        raise InputProblem(field, f"{value!r} is neither yes nor no")


def _whole(field: str, value: Any, lowest: int, highest: int) -> None:
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a whole number")
    if not lowest <= value <= highest:
        raise InputProblem(field, f"{value} is outside {lowest} to {highest}")


def _number(field: str, value: Any) -> None:
    _whole(field, value, 1, 2**31 - 1)


def _within(field: str, value: Any, lowest: float, highest: float, unit: str) -> None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a number")
    if not lowest <= value <= highest:
        raise InputProblem(field, f"{value:g} is outside {lowest:g} to {highest:g} {unit}")


def _one_place(area_id: Any, spot_id: Any) -> None:
    if (area_id is None) == (spot_id is None):
        raise InputProblem("area_id", "give either an area or a spot")
    _number("spot_id" if area_id is None else "area_id", spot_id if area_id is None else area_id)


def _hours(first: Any, last: Any) -> None:
    for field, value in (("from_time", first), ("to_time", last)):
        if value is not None and (not isinstance(value, time) or value.tzinfo is not None):
            raise InputProblem(field, f"{value!r} is not a time of day by the clock there")
    if (first is None) != (last is None):
        raise InputProblem("to_time" if last is None else "from_time", "give both ends of the hours, or neither")


def _day(field: str, value: Any) -> None:
    if not isinstance(value, date) or isinstance(value, datetime):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a date")
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        raise InputProblem(field, f"the year {value.year} is outside {FIRST_YEAR} to {LAST_YEAR}")


def _days(first_field: str, first: date | None, last_field: str, last: date | None) -> None:
    for field, value in ((first_field, first), (last_field, last)):
        if value is not None:
            _day(field, value)
    if first and last and last < first:
        raise InputProblem(last_field, f"{day_words(last)} is before {day_words(first)}")


def _happened(field: str, day: date, today: date | None) -> None:
    _day(field, day)
    if today and day > today:
        raise InputProblem(field, f"{day_words(day)} is still to come")


def _dates_of_state(tidy: EnquiryDraft, today: date | None) -> None:
    _days("sent_on", tidy.sent_on, "answered_on", tidy.answered_on)
    for field, states in (("sent_on", ("asked", "granted", "refused")), ("answered_on", ("granted", "refused"))):
        day = getattr(tidy, field)
        if day is not None:
            _happened(field, day, today)
        elif tidy.state in states:
            raise InputProblem(field, f"say when it was {'sent' if field == 'sent_on' else 'answered'}")


def _instant(field: str, value: Any) -> None:
    if not isinstance(value, datetime) or value.utcoffset() is None:
        raise InputProblem(field, f"{str(value)[:40]!r} is not an instant with its zone")
    _day(field, value.date())


def _doing(doing: Doing) -> None:
    for field in fields(Doing):
        value = getattr(doing, field.name)
        if field.type == "bool":
            _truth(field.name, value)
        else:
            least = 1 if field.name == "group" else 0
            _whole(field.name, value, least, MOST_OF_A_KIND)
    if doing.models > doing.group:
        raise InputProblem("group", f"counts everyone there: {doing.group} is fewer than the {doing.models} models")


def _point(point: Any) -> None:
    if not isinstance(point, tuple) or len(point) != 2:
        raise InputProblem("meeting_point", f"{str(point)[:40]!r} is not a latitude and a longitude")
    _within("meeting_point", point[0], -90.0, 90.0, "degrees of latitude")
    _within("meeting_point", point[1], -180.0, 180.0, "degrees of longitude")
