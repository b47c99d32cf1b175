"""A workshop worked out: its people and stations in a rota, every time of it, the running order and the batteries.

The pages of the running order, the rota, the day, the batteries and the leaf for when things go wrong all start here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import ceil

from models.clock import clock_words
from models.planning.street.sky import weather_kept
from models.planning.street.walk import SAME_PLACE_M, Point, WalkAnswer, walk_between
from models.planning.workshops.grounds import Grounds, grounds_of
from models.planning.workshops.people import people_of
from models.planning.workshops.station_look import StationLight, StationLook, look_and_light
from models.store.engine import Store
from models.store.happenings import happenings_of
from models.store.hazards import sheet_of
from models.store.setups import shelf as setups
from models.store.stations import shelf as stations
from models.street.weather import WeatherHour
from models.workshop.batteries import Batteries, batteries
from models.workshop.course import ModelState
from models.workshop.feels import Feels, feels_of
from models.workshop.fitting import Case
from models.workshop.person import Person
from models.workshop.plan import PlanDraft
from models.workshop.rota import Post, Rota
from models.workshop.rotation import MOST_PEOPLE, plan_rota
from models.workshop.running_order import SAFETY, SET_UP, RunningOrder, running_order
from models.workshop.schedule import Schedule
from models.workshop.timing import Pace, Wait, pace_of, wait_of

HOUR = timedelta(hours=1)
LATEST = timedelta(hours=4)
"""Past the end, so long is footfall looked up: rounds may run over."""


@dataclass(frozen=True, slots=True, eq=False)
class Worked:
    """One rota with its times. case: what the times are made of."""

    case: Case
    schedule: Schedule
    order: RunningOrder
    cells: Batteries

    @property
    def rota(self) -> Rota:
        return self.case.rota


@dataclass(frozen=True, slots=True, eq=False)
class Running:
    """A workshop as planned, before anything happened.

    attendees: who takes turns, by number; below 0 for places nobody has a name for yet. names: of them, of models and
    helpers. looks, lights: by number of the station; a station whose setup has no light is not in lights. worked: None
    where there is nobody or no station yet, which `missing` then names ("people", "stations", "too many people").
    """

    grounds: Grounds
    people: tuple[Person, ...]
    attendees: tuple[int, ...]
    names: Mapping[int, str]
    looks: Mapping[int, StationLook]
    lights: Mapping[int, StationLight]
    walk: WalkAnswer | None
    feels: Feels
    worked: Worked | None
    missing: tuple[str, ...]

    @property
    def station_names(self) -> dict[int, str]:
        return {station.id: station.name for station in self.grounds.stations}

    @property
    def zone(self) -> str:
        return self.grounds.spot.zone

    @property
    def lent(self) -> int:
        """Hands from outside the groups, at any one time: as planned, else the helpers who stand at no station."""
        if self.grounds.plan.lent is not None:
            return self.grounds.plan.lent
        models = {station.model_id for station in self.grounds.stations}
        return sum(one.part == "helper" and one.id not in models for one in self.people)

    def round_clock(self, worked: Worked, number: int, at_s: float) -> str:
        """'17:25', by the clocks of the spot; number and at_s as `RunningOrder.instant` takes them."""
        return clock_words(worked.order.instant(number, at_s), self.zone)

    def posts_of_model(self) -> dict[int, tuple[int, ...]]:
        """Stations that are lost with each model."""
        models = {station.model_id for station in self.grounds.stations if station.model_id is not None}
        return {
            model: tuple(station.id for station in self.grounds.stations if station.model_id == model)
            for model in models
        }


def running_of(store: Store, workshop_id: int, now: datetime, by: timedelta = timedelta()) -> Running:
    """The workshop as planned, or all of it so much later. Raises Missing."""
    grounds = moved(grounds_of(store, workshop_id, now), by)
    people = people_of(store, workshop_id)
    attendees = attendees_in(grounds, people)
    looks, lights = seen(store, grounds)
    walk = _walk(store, grounds)
    running = Running(
        grounds=grounds,
        people=people,
        attendees=attendees,
        names=_names(people, attendees),
        looks=looks,
        lights=lights,
        walk=walk,
        feels=feels_of(_weather(store, grounds)),
        worked=None,
        missing=tuple(_missing(attendees, looks)),
    )
    if running.missing:
        return running
    return replace(running, worked=work(running, planned(running, attendees)))


def planned(running: Running, people: Sequence[int], posts: Sequence[Post] | None = None) -> Rota:
    """A fresh rota as the plan has groups and lent hands; posts: None for all stations."""
    there = [look.post for look in running.looks.values()] if posts is None else posts
    return plan_rota(people, there, running.grounds.plan.group_size, lent=running.lent)


def with_stations(store: Store, running: Running, numbers: Sequence[int]) -> Running:
    """With exactly these stations: without any added since, and with those taken out since, as they were."""
    if list(running.looks) == list(numbers):
        return running
    with store.reading() as s:
        kept = stations.these(s, numbers)
        found = tuple(kept[number] for number in numbers if number in kept)
        known = setups.these(s, {each.setup_id for each in found if each.setup_id is not None})
    grounds = replace(running.grounds, stations=found, setups={**running.grounds.setups, **known})
    looks, lights = seen(store, grounds)
    return replace(running, grounds=grounds, looks=looks, lights=lights)


def seen(store: Store, grounds: Grounds) -> tuple[dict[int, StationLook], dict[int, StationLight]]:
    """Every station as the workshop starts, and its light where it has any."""
    found = {each.id: look_and_light(store, grounds, each, grounds.workshop.starts) for each in grounds.stations}
    lights = {number: light for number, (_, light) in found.items() if light is not None}
    return {number: look for number, (look, _) in found.items()}, lights


def happened(store: Store, workshop_id: int) -> bool:
    """Whether anything was noted on its day."""
    with store.reading() as s:
        return bool(happenings_of(s, workshop_id))


def work(running: Running, rota: Rota) -> Worked:
    """The times of a rota from set-up on, at the workshop's own time."""
    return work_from(running, rota, running.grounds.workshop.starts, {}, from_set_up=True)


def work_from(
    running: Running, rota: Rota, at: datetime, models: Mapping[int, ModelState], *, from_set_up: bool = False
) -> Worked:
    """The times of a rota whose first round begins at `at`, or where `at` is set-up. models: how they stand then.

    Without set-up, nothing that was typed over for a block counts: what is left has other rounds.
    """
    plan, workshop = running.grounds.plan, running.grounds.workshop
    if not from_set_up:
        plan = replace(plan, setup_min=0.0, safety_min=0.0, blocks=())
    case = Case(
        rota=rota,
        paces=paces_of(running, plan, at),
        plan=plan,
        models=models,
        starts_s=first_round_s(plan),
        heat_or_cold=running.feels.heat_or_cold,
    )
    schedule = case.scheduled()
    walk_s = walk_seconds(running.walk)
    back = running.walk is not None
    order = running_order(plan, at, workshop.ends, schedule, walk_s=walk_s, back_s=walk_s, walks_back=back)
    return Worked(case, schedule, order, batteries(schedule, case.paces, plan))


def moved(grounds: Grounds, by: timedelta) -> Grounds:
    """The same with the workshop so much later."""
    workshop = grounds.workshop
    return replace(grounds, workshop=replace(workshop, starts=workshop.starts + by, ends=workshop.ends + by))


def paces_of(running: Running, plan: PlanDraft, origin: datetime) -> dict[int, Pace]:
    """By station; seconds are counted from `origin`, footfall is that of each full hour of the clock."""
    waits = tuple(_waits(running.grounds, plan, origin))
    return {
        number: pace_of(
            number,
            running.lights[number].solved.setup if number in running.lights else None,
            plan,
            waits,
            look.station.pose_s,
        )
        for number, look in running.looks.items()
    }


def attendees_in(grounds: Grounds, people: tuple[Person, ...]) -> tuple[int, ...]:
    """Those named; where nobody is yet, as many places as the workshop's footprint leaves beside models and the
    organiser, numbered -1, -2 and so on."""
    named = tuple(person.id for person in people if person.part == "attendee")
    if named:
        return named
    doing = grounds.workshop.doing
    helpers = sum(person.part == "helper" for person in people)
    return tuple(-place for place in range(1, doing.group - doing.models - helpers))


def first_round_s(plan: PlanDraft) -> float:
    """From set-up to the first round, with what was typed over."""
    typed = {edit.key: edit.minutes for edit in plan.blocks if edit.minutes is not None}
    return 60 * sum(typed.get(key, usual) for key, usual in ((SET_UP, plan.setup_min), (SAFETY, plan.safety_min)))


def walk_seconds(walk: WalkAnswer | None) -> float | None:
    """The longest of the answers in full minutes, None where there is none; nothing to walk is no time."""
    if walk is None:
        return None
    longest_s = max((each.time_s for each in walk.walks), default=0.0 if walk.straight_m < SAME_PLACE_M else None)
    return None if longest_s is None else 60.0 * ceil(longest_s / 60)


def _weather(store: Store, grounds: Grounds) -> WeatherHour | None:
    """As typed in the hazards sheet, else as kept for the spot and hour."""
    starts = grounds.workshop.starts
    with store.reading() as s:
        sheet = sheet_of(s, grounds.workshop.id)
        typed = sheet.hour.at(starts) if sheet else None
        return typed if typed and typed.temperature_c is not None else weather_kept(s, grounds.spot.id, starts)


def _missing(attendees: tuple[int, ...], looks: Mapping[int, StationLook]) -> Iterator[str]:
    if not attendees:
        yield "people"
    if not looks:
        yield "stations"
    if len(attendees) > MOST_PEOPLE:
        yield "too many people"


def _names(people: tuple[Person, ...], attendees: tuple[int, ...]) -> dict[int, str]:
    return {person.id: person.name for person in people} | {one: f"No. {-one}" for one in attendees if one < 0}


def _walk(store: Store, grounds: Grounds) -> WalkAnswer | None:
    meeting = grounds.workshop.meeting_point
    if meeting is None:
        return None
    there: Point = (grounds.spot.latitude_deg, grounds.spot.longitude_deg)
    return walk_between(store, meeting, there, grounds.plan.pace_m_s)


def _waits(grounds: Grounds, plan: PlanDraft, origin: datetime) -> Iterator[tuple[float, Wait]]:
    """From every full hour on, in seconds since `origin`."""
    at, last = origin, origin + (grounds.workshop.ends - grounds.workshop.starts) + LATEST
    while at < last:
        yield (at - origin).total_seconds(), wait_of(grounds.rate(at), plan.gap_s)
        at = at.replace(minute=0, second=0, microsecond=0) + HOUR
