"""The hazards sheet of a workshop: prefilled from its spot and hour, kept as edited, started again with a way back."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from datetime import datetime

from sqlalchemy.orm import Session

from models.clock import to_local
from models.light.facing import sun_place
from models.planning.street.counts import footfall_at, is_holiday_by
from models.planning.street.sky import weather_kept
from models.rules.workshop import Workshop
from models.sky.sun import refracted_deg, sun_at
from models.store import hazards as kept
from models.store.engine import Store
from models.store.hazards import KeptSheet, Looked, SheetDraft, TypedHour
from models.store.plans import keep_plan, plan_of
from models.store.rules import get_workshop
from models.store.settings import get_setting
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.store.versions import Clash, Missing, drafted
from models.street.crowding import Crowd, crowding
from models.street.footfall import day_kind
from models.street.weather import WeatherHour
from models.words.hazards import prefilled
from models.workshop.hazards import HazardLine, Situation, renewed
from models.workshop.plan import Plan, PlanDraft


@dataclass(frozen=True, slots=True)
class Basis:
    """A workshop with its spot, and the situation of its hour before anybody looked or typed the weather.

    kept: the weather kept for the spot in the hour it starts.
    """

    workshop: Workshop
    spot: Spot
    bare: Situation
    kept: WeatherHour | None

    def lines(self, looked: Looked, hour: TypedHour) -> tuple[HazardLine, ...]:
        """As prefilled."""
        situation = replace(self.bare, weather=hour.at(self.workshop.starts), **asdict(looked))
        covered = hour.oktas is not None and hour.oktas >= 8
        return prefilled(replace(situation, in_sun=situation.in_sun and not covered))

    def weather_for(self, hour: TypedHour) -> WeatherHour | None:
        """What was typed in the sheet, and where nothing was, what is kept for the spot."""
        return hour.at(self.workshop.starts) or self.kept

    @property
    def filled(self) -> TypedHour:
        """The weather kept for the spot, as a sheet remembers it."""
        return TypedHour.of(self.kept)


def basis_of(s: Session, workshop_id: int) -> Basis:
    """Raises Missing."""
    workshop = get_workshop(s, workshop_id)
    spot = spots.find(s, workshop.spot_id)[0]
    instants = [workshop.starts + part * (workshop.ends - workshop.starts) / 4 for part in range(5)]
    suns = [sun_at(instant, spot.latitude_deg, spot.longitude_deg) for instant in instants]
    heights = [float(refracted_deg(sun.elevation_deg)) for sun in suns]
    up = max(heights) > 0
    near = spot.looking_deg is not None and any(
        height > 0 and sun_place(spot.looking_deg, height, sun.azimuth_deg, True) == "in the lens"
        for height, sun in zip(heights, suns, strict=True)
    )
    dark = min(sun.elevation_deg for sun in suns) < float(get_setting(s, "lighting_up_deg"))
    bare = Situation(
        noted=spot.hazards, in_sun=up and spot.roof == "none", sun_up=up, sun_near_lens=near, dark=dark,
        crowd=_crowd(s, workshop, spot),
    )  # fmt: skip
    return Basis(workshop, spot, bare, weather_kept(s, spot.id, workshop.starts))


def keep_sheet(store: Store, draft: SheetDraft, version: int) -> KeptSheet:
    """Keep the sheet; lines left as prefilled follow what was looked at, the weather and the spot's note.

    version: 0 for a new one. Raises Clash where somebody kept another in between, Missing, InputProblem.
    """
    with store.writing() as s:
        basis, current = basis_of(s, draft.workshop_id), kept.stored_sheet_of(s, draft.workshop_id)
        filled = None if draft.hour.given else basis.filled
        then = current or SheetDraft(workshop_id=draft.workshop_id, lines=(), filled=basis.filled)
        before = basis.lines(then.looked, then.filled_from)
        after = basis.lines(draft.looked, filled or draft.hour)
        told = kept.with_noted(draft.lines, then.noted, basis.spot.hazards) if then.noted else draft.lines
        draft = replace(draft, lines=renewed(told, before, after), filled=filled, noted=basis.spot.hazards)
        if current is None:
            if version:
                raise Missing(draft.workshop_id, "hazards sheet")
            done = kept.shelf.add(s, draft)
        elif not version:
            raise Clash(current, "hazards sheet")
        else:
            done = kept.shelf.change(s, current.id, version, draft)
        _same_in_plan(s, done)
        return done


def with_ambulance(s: Session, draft: SheetDraft) -> SheetDraft:
    """With the address that the workshop's plan has, where the sheet has none: nobody types it twice."""
    return (
        draft if draft.ambulance_address else replace(draft, ambulance_address=plan_of(s, draft.workshop_id).ambulance)
    )


def same_in_sheet(s: Session, workshop_id: int, ambulance: str) -> None:
    """What a plan says of an ambulance, written into the sheet, if one is kept."""
    current = kept.stored_sheet_of(s, workshop_id)
    if current is not None and current.ambulance_address != ambulance:
        changed = replace(drafted(SheetDraft, current), ambulance_address=ambulance)
        kept.shelf.change(s, current.id, current.version, changed)


def _same_in_plan(s: Session, sheet: KeptSheet) -> None:
    plan = plan_of(s, sheet.workshop_id)
    if plan.ambulance != sheet.ambulance_address:
        changed = replace(drafted(PlanDraft, plan), ambulance=sheet.ambulance_address)
        keep_plan(s, plan.version if isinstance(plan, Plan) else 0, changed)


def start_again(store: Store, workshop_id: int, version: int, *, now: datetime) -> KeptSheet:
    """Put the sheet aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        current = kept.sheet_of(s, workshop_id)
        if current is None:
            raise Missing(workshop_id, "hazards sheet")
        return kept.shelf.delete(s, current.id, version, now=now)


def bring_back(store: Store, workshop_id: int, sheet_id: int) -> KeptSheet:
    """Undo it. A sheet that was kept meanwhile is in the way: Clash."""
    with store.writing() as s:
        _, seen = kept.shelf.find(s, sheet_id, workshop_id=workshop_id)
        current = kept.sheet_of(s, workshop_id)
        if current is not None and not seen:
            raise Clash(current, "hazards sheet")
        return kept.shelf.restore(s, sheet_id)


def _crowd(s: Session, workshop: Workshop, spot: Spot) -> Crowd | None:
    """How tight it gets beside the station, None where the width or the hour is not known."""
    local = to_local(workshop.starts, spot.zone)
    rate = footfall_at(s, spot).at(day_kind(local.date(), is_holiday_by(s)), local.hour)
    if rate is None or workshop.width_left_m is None:
        return None
    return crowding(workshop.width_left_m, rate.people_per_h).crowd
