"""All that a workshop's stations rest on, read once: its spot, plan, setups, kit, footfall and the weather typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from models.clock import to_local
from models.planning.answers import Moment
from models.planning.moments import ASSUMED_OKTAS
from models.planning.setups.kit import WholeKit, whole_kit
from models.planning.street.counts import footfall_at, is_holiday_by
from models.planning.street.sky import under_weather
from models.rules.workshop import Workshop
from models.store import setups
from models.store.engine import Store
from models.store.hazards import sheet_of
from models.store.plans import plan_of
from models.store.rules import get_workshop
from models.store.setups import KeptSetup
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.store.stations import stations_of
from models.street.footfall import Footfall, IsHoliday, Rate, day_kind
from models.workshop.plan import Plan, PlanDraft
from models.workshop.station import Station


@dataclass(frozen=True, slots=True)
class Grounds:
    """setups: by number, deleted ones too. oktas: typed in the hazards sheet, None where not. now: when it was read."""

    workshop: Workshop
    spot: Spot
    plan: PlanDraft
    stations: tuple[Station, ...]
    setups: Mapping[int, KeptSetup]
    kit: WholeKit
    footfall: Footfall
    is_holiday: IsHoliday
    oktas: int | None
    now: datetime

    @property
    def today(self) -> date:
        """The local day at the spot."""
        return to_local(self.now, self.spot.zone).date()

    @property
    def plan_version(self) -> int:
        """0 where no plan is kept yet."""
        return self.plan.version if isinstance(self.plan, Plan) else 0

    def rate(self, at: datetime) -> Rate | None:
        """Who comes by in that hour, None where nobody counted."""
        local = to_local(at, self.spot.zone)
        return self.footfall.at(day_kind(local.date(), self.is_holiday), local.hour)


def moment_of(store: Store, grounds: Grounds, at: datetime) -> Moment:
    """The instant under the cloud typed in the hazards sheet, else the weather kept for the spot, else as assumed."""
    zone = grounds.spot.zone
    if grounds.oktas is not None:
        return Moment(at, zone, grounds.oktas, "typed in the hazards sheet")
    return under_weather(store, Moment(at, zone, ASSUMED_OKTAS, "assumed"), grounds.spot.id, grounds.now)


def grounds_of(store: Store, workshop_id: int, now: datetime) -> Grounds:
    """Raises Missing."""
    kit = whole_kit(store)
    with store.reading() as s:
        workshop = get_workshop(s, workshop_id)
        spot = spots.find(s, workshop.spot_id)[0]
        there = stations_of(s, workshop_id)
        numbers = {each.setup_id for each in there if each.setup_id is not None}
        sheet = sheet_of(s, workshop_id)
        hour = sheet.hour if sheet else None
        typed = hour.oktas if hour else None
        return Grounds(
            workshop=workshop,
            spot=spot,
            plan=plan_of(s, workshop_id),
            stations=there,
            setups=setups.shelf.these(s, numbers),
            kit=kit,
            footfall=footfall_at(s, spot),
            is_holiday=is_holiday_by(s),
            oktas=None if typed is None else round(typed),
            now=now,
        )
