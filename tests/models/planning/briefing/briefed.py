"""An evening to brief on: two stations, six who come, a model and a helper, everything filled in."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from models.planning.rules.workshops import change_workshop, draft_of, get_workshop
from models.rules.enquiry import EnquiryDraft
from models.rules.papers import PaperDraft
from models.store import rules
from models.store.engine import Store
from models.store.hazards import SheetDraft, TypedHour
from models.store.hazards import shelf as sheets
from models.store.people import shelf as people
from models.store.plans import keep_plan
from models.store.settings import put_setting
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.hazards import HazardLine
from models.workshop.person import PersonDraft
from models.workshop.plan import PlanDraft
from tests.models.planning.workshops.evening import STARTS, ZONE, keep_evening, keep_station

MEETING = (52.5288, 5.2275)
NAMES = ("Ada Brook", "Ben Stone", "Cleo March", "Dov Field", "Eve Hollow", "Finn Weir", "Mira Lune", "Jo Moss")
NUMBERS = tuple(f"0555 02{place:02}" for place in range(len(NAMES)))
LINES = (
    HazardLine(key="water", what="Water's edge", done="Nobody walks backwards near it", who="watcher", rests="here"),
    HazardLine(key="lightning", what="Lightning", done="Inside at the first thunder", who="organiser", rests="always"),
)


def keep_briefed(store: Store) -> int:
    """The number of the workshop."""
    workshop, setup = keep_evening(store, facilities="Toilets in the hall")
    keep_people(store, workshop)
    keep_station(store, workshop, setup_id=setup, lesson="Short light")
    keep_station(store, workshop, name="B", setup_id=setup)
    with store.writing() as s:
        for name, latitude_deg in (("Old arcade", 52.5312), ("Ferry quay", MEETING[0])):
            at = {"latitude_deg": latitude_deg, "longitude_deg": MEETING[1]}
            add_spot(s, SpotDraft(name=name, zone=ZONE, **at))
        put_setting(s, "organiser", "R. Vale")
        put_setting(s, "organiser_contact", "0555 0100")
        keep_plan(s, 0, plan_draft(workshop))
        hour = TypedHour(temperature_c=12.0, wind_m_s=3.0)
        sheets.add(s, SheetDraft(
            workshop_id=workshop, lines=LINES, emergency_number="112", first_aider="K. Reed", hour=hour,
        ))  # fmt: skip
        rules.add_enquiry(s, asked(workshop), now=STARTS - timedelta(days=20))
        rules.add_paper(s, PaperDraft(kind="insurance", title="Liability", reference="P 4", where="blue folder"))
    kept = get_workshop(store, workshop)
    change_workshop(store, workshop, kept.version, replace(draft_of(kept), meeting_point=MEETING, fallback_spot_id=2))
    return workshop


def keep_people(store: Store, workshop: int) -> None:
    parts = ("attendee",) * 6 + ("model", "helper")
    with store.writing() as s:
        for part, name, number in zip(parts, NAMES, NUMBERS, strict=True):
            people.add(s, PersonDraft(workshop_id=workshop, part=part, name=name, contact=number))


def plan_draft(workshop: int, **changes: object) -> PlanDraft:
    usual = {"meets_by": "By the pump", "indoors": "The ticket hall", "talks": "J. Vine", "ambulance": "1 Foundry Lane"}
    return PlanDraft(workshop_id=workshop, **(usual | changes))


def asked(workshop: int) -> EnquiryDraft:
    sent = STARTS.date() - timedelta(days=20)
    return EnquiryDraft(
        to_whom="Harbour office", spot_id=1, workshop_id=workshop, activities=("stand_held",), state="granted",
        reference="R 12", conditions="No cables", first_day=STARTS.date(), last_day=STARTS.date(), people=6,
        sent_on=sent, answered_on=sent,
    )  # fmt: skip
