"""What brings people by a spot, as imports have it: notes beside what was counted, never counts."""

from __future__ import annotations

from sqlalchemy.orm import Session

from models.planning.answers import Moment
from models.planning.spot_notes import Note
from models.planning.street.counts import footfall_at, is_holiday_by
from models.store.engine import Store
from models.store.spots import Spot
from models.store.town import HintNear, hints_near
from models.street.footfall import day_kind
from models.words.footfall import NEARBY, footfall_short
from models.words.street import hour_words, near_words

NEAR_M = 150.0
"""Two minutes' walk, as far as a stop or a gate is felt on the pavement: our planning rule."""


def hints_by(s: Session, spot: Spot) -> tuple[HintNear, ...]:
    """The nearest of each kind within NEAR_M, nearest first."""
    nearest: dict[str, HintNear] = {}
    for hint in hints_near(s, spot.latitude_deg, spot.longitude_deg, NEAR_M):
        nearest.setdefault(hint.kind, hint)
    return tuple(nearest.values())


def footfall_note(store: Store, spot: Spot, moment: Moment) -> Note:
    """Who was counted in an hour like that of the moment, or that nobody was; under it what stands near."""
    with store.reading() as s:
        found, hints = footfall_at(s, spot), hints_by(s, spot)
        kind, hour = day_kind(moment.local.date(), is_holiday_by(s)), moment.local.hour
    rate = found.at(kind, hour)
    lines = [f"{hour_words(kind, hour)}: {footfall_short(rate)}"]
    if hints:
        near = "; ".join(near_words(hint.kind, hint.distance_m, hint.name) for hint in hints)
        lines.append(f"{NEARBY}: {near}")
    return Note("Counted", "\n".join(lines), rate is not None)
