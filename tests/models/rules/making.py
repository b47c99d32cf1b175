"""Areas, rules, enquiries and footprints as tests need them, and strategies of small ones that meet often."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from models.rules.activities import ACTIVITIES
from models.rules.areas import Area, Shape
from models.rules.enquiry import STATES, Enquiry
from models.rules.footprint import Doing, Footprint
from models.rules.papers import Paper
from models.rules.rule import FOUND, Rule

ZONE = ZoneInfo("Europe/Amsterdam")
SQUARE: Shape = ((((5.22, 52.52), (5.23, 52.52), (5.23, 52.53), (5.22, 52.52)),),)
DAY = date(2026, 7, 18)
"""A Saturday."""
SPOT = 7


def area(number: int = 1, **noted: Any) -> Area:
    usual = {"name": f"Area {number}", "kind": "public_street", "authority": f"Office {number}", "shape": SQUARE}
    return Area(id=number, version=1, **(usual | noted))


def rule(activity: str = "stand_ground", found: str = "needed", *, number: int = 1, **noted: Any) -> Rule:
    usual = {"source_title": "Streets By-law", "checked_on": date(2026, 1, 12)}
    place = {} if "spot_id" in noted else {"area_id": 1}
    return Rule(id=number, version=1, activity=activity, found=found, **(usual | place | noted))


def enquiry(state: str = "granted", *, number: int = 1, **noted: Any) -> Enquiry:
    """It covers `footprint()` in full unless told otherwise."""
    usual: dict[str, Any] = {
        "to_whom": "Office 1",
        "activities": tuple(ACTIVITIES),
        "first_day": DAY,
        "last_day": DAY,
        "from_time": time(16, 30),
        "to_time": time(19, 30),
        "people": 12,
        "sent_on": date(2026, 6, 1),
        "answered_on": date(2026, 6, 20) if state in ("granted", "refused") else None,
    }
    place = {} if "spot_id" in noted else {"area_id": 1}
    return Enquiry(id=number, version=1, state=state, **(usual | place | noted))


def footprint(day: date = DAY, starts: str = "17:00", ends: str = "19:00", **doing: Any) -> Footprint:
    """Nine people with one stand on the ground; hours that end no later than they begin go on over midnight."""
    first, last = time.fromisoformat(starts), time.fromisoformat(ends)
    last_day = day if last > first else day + timedelta(days=1)
    usual = {"stand_ground": 1, "stand_held": 0, "flash_held": 0, "models": 0, "teaching": False}
    return Footprint(
        starts=datetime.combine(day, first, ZONE),
        ends=datetime.combine(last_day, last, ZONE),
        doing=Doing(**(usual | doing)),
    )


def paper(kind: str = "insurance", *, number: int = 1, **noted: Any) -> Paper:
    usual: dict[str, Any] = {"title": "Public liability"}
    if kind == "insurance":
        usual |= {"valid_to": date(2027, 4, 30), "covers_teaching": True, "covers_models": True}
    return Paper(id=number, version=1, kind=kind, **(usual | noted))


NEAR = st.integers(-3, 3).map(lambda days: DAY + timedelta(days=days))
HOURS = st.sampled_from(
    [(None, None), (time(8), time(18)), (time(18), time(22)), (time(22), time(6)), (time(), time())]
)
PLACES = st.sampled_from([{"area_id": 1}, {"area_id": 2}, {"spot_id": SPOT}])
DONE = ("stand_ground", "group", "teaching")


@st.composite
def rules(draw: st.DrawFn) -> Rule:
    hours = draw(HOURS)
    first = draw(st.none() | NEAR)
    return rule(
        draw(st.sampled_from(DONE)),
        draw(st.sampled_from(list(FOUND))),
        number=draw(st.integers(1, 10**6)),
        over=draw(st.sampled_from([None, 0, 8, 9])),
        from_time=hours[0],
        to_time=hours[1],
        weekdays=draw(st.sampled_from([(), (5,), (0, 1), (4, 5, 6)])),
        first_day=first,
        last_day=draw(st.none() | NEAR.filter(lambda day: first is None or day >= first)),
        lead_days=draw(st.none() | st.integers(0, 12)),
        lead_working=draw(st.booleans()),
        check_again=draw(st.none() | NEAR),
        **draw(PLACES),
    )


@st.composite
def enquiries(draw: st.DrawFn) -> Enquiry:
    days = sorted([draw(NEAR), draw(NEAR)])
    hours = draw(st.sampled_from([(None, None), (time(16), time(20)), (time(17), time(18, 59)), (time(16), time(2))]))
    return enquiry(
        draw(st.sampled_from(list(STATES))),
        number=draw(st.integers(1, 10**6)),
        activities=tuple(draw(st.sets(st.sampled_from(DONE)))),
        first_day=draw(st.sampled_from([None, *days])),
        last_day=days[1],
        from_time=hours[0],
        to_time=hours[1],
        people=draw(st.sampled_from([None, 8, 9, 12])),
        sent_on=draw(st.none() | st.integers(0, 30).map(lambda days: DAY - timedelta(days=days))),
        valid_from=draw(st.none() | NEAR),
        valid_to=draw(st.none() | NEAR),
        **draw(PLACES),
    )


FOOTPRINTS = st.builds(
    footprint,
    starts=st.sampled_from(["09:00", "17:00", "17:30", "21:30", "00:30"]),
    ends=st.sampled_from(["12:00", "18:00", "19:00", "23:00", "01:00"]),
    group=st.integers(1, 12),
    teaching=st.booleans(),
)
TODAYS = st.integers(-30, 1).map(lambda days: DAY + timedelta(days=days))
