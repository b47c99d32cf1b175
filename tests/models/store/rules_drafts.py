"""Drafts of the five things that rules are about, each with every field filled in; and a street to hang them on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from models.rules.areas import Area, AreaDraft, Shape
from models.rules.enquiry import Enquiry, EnquiryDraft
from models.rules.footprint import Doing
from models.rules.papers import Paper, PaperDraft
from models.rules.rule import Rule, RuleDraft
from models.rules.workshop import Workshop, WorkshopDraft
from models.store import rules
from models.store.rules import areas, enquiries, papers, workshops
from models.store.rules import rules as kept_rules
from models.store.versions import Shelf

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)


def square(south: float = 52.5, west: float = 5.2, size_deg: float = 0.1) -> Shape:
    north, east = south + size_deg, west + size_deg
    return ((((west, south), (east, south), (east, north), (west, north), (west, south)),),)


def area_draft(name: str = "Canal park", shape: Shape | None = None) -> AreaDraft:
    return AreaDraft(name=name, kind="park", authority="Park office", shape=shape or square())


def rule_draft(**values: Any) -> RuleDraft:
    said = {"activity": "tripod", "found": "needed", "source_title": "By-law 12", "checked_on": date(2026, 9, 1)}
    return RuleDraft(**{**said, **values})


def workshop_draft(at_spot: int, **values: Any) -> WorkshopDraft:
    starts = datetime(2026, 11, 7, 15, tzinfo=UTC)
    said = {"title": "Dusk", "spot_id": at_spot, "starts": starts, "ends": starts + timedelta(hours=2)}
    return WorkshopDraft(**{**said, **values})


AREA = AreaDraft(
    name="Canal park",
    kind="park",
    authority="Park office",
    shape=(
        *square(52.5),
        (
            ((5.0, 52.0), (5.1, 52.0), (5.1, 52.1), (5.0, 52.0)),
            ((5.06, 52.02), (5.08, 52.02), (5.08, 52.04), (5.06, 52.02)),
        ),
    ),
    contact="park@example.org",
    web="https://park.example/rules",
    no_passing=True,
    holidays="DE-BE",
    notes="gate shut at ten",
)
PAPER = PaperDraft(
    kind="insurance",
    title="Liability",
    reference="L-17",
    insured_sum="2.5 million",
    valid_from=date(2026, 1, 1),
    valid_to=date(2026, 12, 31),
    covers_teaching=True,
    covers_models=False,
    count=3,
    where="glove box",
    notes="ask for the rider",
)


def full_rule(area_id: int) -> RuleDraft:
    return RuleDraft(
        area_id=area_id,
        activity="group",
        found="conditions",
        over=8,
        width_min_m=1.5,
        from_time=time(22, 30),
        to_time=time(6),
        weekdays=(5, 6),
        first_day=date(2026, 4, 1),
        last_day=date(2026, 10, 31),
        conditions="not on the lawn",
        lead_days=10,
        lead_working=False,
        fee="40 a day",
        insurance="1 million",
        source_title="By-law 12",
        source_section="§ 4 (2)",
        source_link="https://park.example/bylaw#4",
        spoken=True,
        read_by="Ana",
        checked_on=date(2026, 9, 1),
        check_again=date(2027, 9, 1),
    )


def full_enquiry(spot_id: int, workshop_id: int) -> EnquiryDraft:
    return EnquiryDraft(
        to_whom="Harbour office",
        spot_id=spot_id,
        workshop_id=workshop_id,
        contact="harbour@example.org",
        activities=("stand_ground", "group"),
        first_day=date(2026, 11, 7),
        last_day=date(2026, 11, 8),
        from_time=time(17),
        to_time=time(19, 15),
        people=12,
        state="granted",
        sent_on=date(2026, 10, 1),
        answered_on=date(2026, 10, 9),
        reference="H 17",
        valid_from=date(2026, 11, 1),
        valid_to=date(2026, 11, 30),
        conditions="keep the quay free",
        notes="ring before noon",
    )


def full_workshop(spot_id: int, fallback_spot_id: int) -> WorkshopDraft:
    return workshop_draft(
        spot_id,
        doing=Doing(group=12, models=2, stand_ground=3, obstruction=True),
        width_left_m=2.4,
        fallback_spot_id=fallback_spot_id,
        meeting_point=(52.53, 5.23),
        called_off=True,
    )


@dataclass(frozen=True)
class Thing:
    """One of the five: its shelf, its functions, a full draft, and what a change changes."""

    shelf: Shelf[Any, Any]
    kept: type[Any]
    draft: type[Any]
    full: Callable[[Street], Any]
    change: dict[str, Any]
    bad: dict[str, Any]

    def __getattr__(self, verb: str) -> Callable[..., Any]:
        """add, get, change_, delete, restore: as the store exports them."""
        return getattr(rules, f"{verb.rstrip('_')}_{self.shelf.what}")


@dataclass(frozen=True)
class Street:
    """Numbers of what stands in the database already."""

    spot_id: int
    other_spot_id: int
    area_id: int
    workshop_id: int


THINGS = {
    "area": Thing(areas.shelf, Area, AreaDraft, lambda here: AREA, {"notes": "open all night"}, {"kind": "zoo"}),
    "rule": Thing(
        kept_rules.shelf, Rule, RuleDraft, lambda here: full_rule(here.area_id), {"fee": ""}, {"activity": "busking"}
    ),
    "enquiry": Thing(
        enquiries.shelf,
        Enquiry,
        EnquiryDraft,
        lambda here: full_enquiry(here.spot_id, here.workshop_id),
        {"people": None},
        {"people": 0},
    ),
    "paper": Thing(papers.shelf, Paper, PaperDraft, lambda here: PAPER, {"covers_models": None}, {"kind": "rumour"}),
    "workshop": Thing(
        workshops.shelf,
        Workshop,
        WorkshopDraft,
        lambda here: full_workshop(here.spot_id, here.other_spot_id),
        {"meeting_point": None},
        {"width_left_m": -1.0},
    ),
}
