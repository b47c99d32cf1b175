"""Planning an enquiry: its form filled in from a workshop or a what-if and from what is recorded of the place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy.orm import Session

from models.clock import day_words, to_local
from models.planning.moments import read_moment
from models.planning.rules.enquiries import EnquiryRow, enquiry_rows
from models.planning.rules.enquiry_form import YES, activity_field
from models.planning.rules.enquiry_gaps import found_at_place, unasked
from models.planning.rules.enquiry_words import activities_words, until_words
from models.planning.rules.findings import findings_at
from models.planning.rules.rule_rows import RuleRow, rule_rows
from models.planning.rules.rule_typed import hours_text
from models.planning.rules.what_if import read_footprint, span_words
from models.planning.rules.workshops import footprint_of
from models.planning.spots import home_zone
from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings
from models.rules.areas import Area
from models.rules.deadlines import TO_ASK, deadlines
from models.rules.enquiry import Enquiry, EnquiryDraft
from models.rules.footprint import Footprint
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.rules.areas import shelf as areas
from models.store.rules.workshops import shelf as workshops
from models.store.spots import Spot, get_spot
from models.store.spots import shelf as spots
from models.words.rules import STANDING_NOTE

MOST_CHOICES = 50


@dataclass(frozen=True, slots=True)
class About:
    """What an enquiry is to speak of: an area or a spot, and for which workshop."""

    area_id: int | None = None
    spot_id: int | None = None
    workshop_id: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPlace:
    """What an enquiry speaks of: an area or a spot, with who decides there as far as that is recorded."""

    area_id: int | None
    spot_id: int | None
    name: str
    authority: str
    contact: str


@dataclass(frozen=True, slots=True)
class AskedWorkshop:
    """The workshop an enquiry is for."""

    id: int
    title: str
    when: str


@dataclass(frozen=True, slots=True)
class EnquiryPlan:
    """The form as it begins, and what is recorded beside it.

    by: the last day to ask in words, empty where none is known. unticked: what of the workshop the form begins without
    though it stands open there. others: what was asked there already.
    """

    form: Mapping[str, str]
    place: AskedPlace
    workshop: AskedWorkshop | None
    by: str
    unticked: tuple[str, ...]
    rules: tuple[RuleRow, ...]
    others: tuple[EnquiryRow, ...]
    standing_note: str


@dataclass(frozen=True, slots=True)
class PlaceChoice:
    """A place that could be asked about; activities: what of the workshop must be asked there, in words."""

    place: AskedPlace
    activities: str


@dataclass(frozen=True, slots=True)
class PlanChoices:
    """What an enquiry could be about, where the address does not say. more: there are others beside these areas."""

    workshop: AskedWorkshop | None
    places: tuple[PlaceChoice, ...]
    workshops: tuple[AskedWorkshop, ...]
    more: bool
    standing_note: str


def enquiry_plan(store: Store, asked: Mapping[str, str], now: datetime, about: About) -> EnquiryPlan:
    """The form for asking about an area or a spot. Raises Missing, InputProblem for a what-if that cannot be read."""
    home = home_zone(store)
    today = to_local(now, home).date()
    with store.reading() as s:
        place = asked_place(s, about)
        workshop, spot = workshop_of(s, about.workshop_id)
        footprint = footprint_of(workshop, spot.zone) if workshop and spot else None
        if footprint is None and asked.get("on"):
            zone = get_spot(s, about.spot_id).zone if about.spot_id else home
            footprint = read_footprint(
                asked, read_moment(asked["on"], asked.get("at"), None, zone, now, asked.get("fold"))
            )
        area_ids = (about.area_id,) if about.area_id else ()
        rules = kept.rules_for(s, area_ids, about.spot_id)
        said = kept.enquiries_for(s, area_ids, about.spot_id)
        area = kept.get_area(s, about.area_id) if footprint and about.area_id else None
        found = found_at_place(s, area, about.spot_id, footprint, spot, rules, said, today) if footprint else ()
        others = enquiry_rows(s, [each for each in said if _same_days(each, footprint)], today)
    activities = _to_ask(found, asked.get("activity", ""))
    return EnquiryPlan(
        form=_form(place, footprint, activities),
        place=place,
        workshop=asked_workshop(workshop, spot) if workshop and spot else None,
        by=_by(found, today),
        unticked=unasked(found, activities),
        rules=rule_rows([rule for rule in rules if not activities or rule.activity in activities], today),
        others=others,
        standing_note=STANDING_NOTE,
    )


def plan_choices(store: Store, now: datetime, workshop_id: int | None) -> PlanChoices:
    """What could be asked about: the places of a workshop, else the workshops to come and the areas. Raises Missing."""
    with store.reading() as s:
        workshop, spot = workshop_of(s, workshop_id)
        if workshop and spot:
            places = _places(s, workshop, spot, to_local(now, spot.zone).date())
            return PlanChoices(asked_workshop(workshop, spot), places, (), False, STANDING_NOTE)
        some = kept.list_areas(s, limit=MOST_CHOICES + 1)
        coming = [each for each in kept.list_workshops(s, from_=now, limit=MOST_CHOICES) if not each.called_off]
        where = spots.these(s, {each.spot_id for each in coming})
    workshops = tuple(asked_workshop(each, where[each.spot_id]) for each in coming)
    choices = tuple(PlaceChoice(_area_place(area), "") for area in some[:MOST_CHOICES])
    return PlanChoices(None, choices, workshops, len(some) > MOST_CHOICES, STANDING_NOTE)


def asked_place(s: Session, about: About | EnquiryDraft) -> AskedPlace:
    """What an enquiry speaks of, even where it was deleted since. Raises Missing."""
    if about.area_id is not None:
        return _area_place(areas.find(s, about.area_id)[0])
    spot, _ = spots.find(s, about.spot_id or 0)
    return AskedPlace(area_id=None, spot_id=spot.id, name=spot.name, authority=spot.controller, contact="")


def workshop_of(s: Session, workshop_id: int | None) -> tuple[Workshop | None, Spot | None]:
    """The workshop and its spot, even where they were deleted since. Raises Missing."""
    if workshop_id is None:
        return None, None
    workshop, _ = workshops.find(s, workshop_id)
    return workshop, spots.find(s, workshop.spot_id)[0]


def asked_workshop(workshop: Workshop, spot: Spot) -> AskedWorkshop:
    return AskedWorkshop(workshop.id, workshop.title, span_words(footprint_of(workshop, spot.zone), spot.zone))


def _places(s: Session, workshop: Workshop, spot: Spot, today: date) -> tuple[PlaceChoice, ...]:
    """Where something of the workshop must be asked, then the other areas that touch it."""
    footprint = footprint_of(workshop, spot.zone)
    found = findings_at(s, spot, footprint, today=today, meeting_point=workshop.meeting_point)
    asks: dict[int | None, list[str]] = {}
    for deadline in deadlines(found.found):
        asks.setdefault(deadline.area.id if deadline.area else None, []).extend(deadline.activities)
    about_spot = AskedPlace(area_id=None, spot_id=spot.id, name=spot.name, authority=spot.controller, contact="")
    places = [*map(_area_place, (*found.areas, *found.passed)), about_spot]
    choices = [PlaceChoice(place, _words(asks.get(place.area_id, ()))) for place in places]
    return tuple(sorted(choices, key=lambda choice: not choice.activities))


def _area_place(area: Area) -> AskedPlace:
    contact = area.contact or area.web
    return AskedPlace(area_id=area.id, spot_id=None, name=area.name, authority=area.authority, contact=contact)


def _same_days(enquiry: Enquiry, footprint: Footprint | None) -> bool:
    """It may be about the same: its days hold that day, or nobody knows."""
    if footprint is None or enquiry.first_day is None or enquiry.last_day is None:
        return True
    return enquiry.first_day <= footprint.day <= enquiry.last_day


def _to_ask(found: Sequence[ActivityFindings], activity: str) -> tuple[str, ...]:
    """What must be asked there, and what the address names."""
    asks = {each.activity for each in found if any(finding.answer in TO_ASK for finding in each.findings)}
    return tuple(key for key in ACTIVITIES if key in asks or key == activity)


def _by(found: Sequence[ActivityFindings], today: date) -> str:
    days = [finding.by for each in found for finding in each.findings if finding.by and finding.answer in TO_ASK]
    return f"{day_words(min(days))}, {until_words(min(days), today)}" if days else ""


def _form(place: AskedPlace, footprint: Footprint | None, activities: Sequence[str]) -> dict[str, str]:
    form = {"to_whom": place.authority, "contact": place.contact} | {activity_field(key): YES for key in activities}
    if footprint is None:
        return form
    day = footprint.day.isoformat()
    hours = hours_text((footprint.starts.time(), footprint.ends.time()))
    return form | {"first_day": day, "last_day": day, "hours": hours, "people": str(footprint.doing.group)}


def _words(activities: Sequence[str]) -> str:
    return activities_words(tuple(key for key in ACTIVITIES if key in activities))
