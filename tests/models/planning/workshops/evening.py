"""An evening with a setup of key and fill, at a spot whose pavement was measured and counted."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from models.planning.kit import begin_with_kit
from models.planning.setups.keeping import add_setup
from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.engine import Store
from models.store.setups import LightDraft, SetupDraft
from models.store.spots import add_spot
from models.store.stations import add_station
from models.store.street import CountDraft
from models.store.street import shelf as counts
from models.street.spot import SpotDraft
from models.workshop.station import Station, StationDraft

ZONE = "Europe/Amsterdam"
STARTS = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)
ENDS = STARTS + timedelta(minutes=90)
NOW = datetime(2026, 10, 10, 9, 0, tzinfo=UTC)
LANE = (52.5301, 5.2312)
KEY = LightDraft(role="key", flash="large", axis_deg=-45, battery="rechargeable", distance_m=1.2)
FILL = LightDraft(role="fill", flash="small", axis_deg=30, distance_m=1.4, held=False)
SETUP = SetupDraft(title="Key and fill", camera="main-camera", trigger="plain-radio", lights=(KEY, FILL))


def keep_evening(store: Store, **changes: object) -> tuple[int, int]:
    """Numbers of the workshop and of the setup. changes: fields of the spot."""
    begin_with_kit(store)
    setup = add_setup(store, SETUP)
    with store.writing() as s:
        at = {"name": "Foundry Lane", "latitude_deg": LANE[0], "longitude_deg": LANE[1], "zone": ZONE}
        facts = {"pavement_width_m": 3.5, "looking_deg": 270.0} | changes
        spot = add_spot(s, SpotDraft(**at, **facts))
        doing = Doing(group=9, models=1, stand_ground=0, stand_held=1, flash_held=1)
        draft = WorkshopDraft(title="Evening", spot_id=spot.id, starts=STARTS, ends=ENDS, doing=doing)
        return rules.add_workshop(s, draft).id, setup.id


def keep_station(store: Store, workshop_id: int, **fields: object) -> Station:
    with store.writing() as s:
        return add_station(s, StationDraft(**{"workshop_id": workshop_id, "name": "A", **fields}))


def count_there(store: Store, people: int) -> None:
    """In the hour in which it ends."""
    with store.writing() as s:
        counts.add(s, CountDraft(spot_id=1, starts=ENDS - timedelta(minutes=20), minutes=10, number=people))
