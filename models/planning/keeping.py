"""Keeping, changing, deleting and bringing back spots."""

from __future__ import annotations

from datetime import datetime

from models.store import rules
from models.store import spots as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.street.spot import SpotDraft


def get_spot(store: Store, spot_id: int) -> Spot:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_spot(s, spot_id)


def find_spot(store: Store, text: str) -> Spot:
    """By number, name, or a part of a name that only one spot has. Raises Missing, or InputProblem for several."""
    with store.reading() as s:
        return kept.find_spot(s, text)


def add_spot(store: Store, draft: SpotDraft) -> Spot:
    with store.writing() as s:
        return kept.add_spot(s, draft)


def change_spot(store: Store, spot_id: int, version: int, draft: SpotDraft) -> Spot:
    """Raises Clash where somebody changed it in between, Missing where it is gone."""
    with store.writing() as s:
        return kept.change_spot(s, spot_id, version, draft)


def delete_spot(store: Store, spot_id: int, version: int, *, now: datetime) -> Spot:
    """Put aside for thirty days; what was put aside longer ago goes for good."""
    with store.writing() as s:
        return kept.delete_spot(s, spot_id, version, now=now)


def workshops_there(store: Store, spot_id: int, now: datetime) -> int:
    """How many workshops are to come at a spot, those called off left out."""
    with store.reading() as s:
        return rules.count_workshops(s, from_=now, called_off=False, at_spot=spot_id)


def restore_spot(store: Store, spot_id: int) -> Spot:
    with store.writing() as s:
        return kept.restore_spot(s, spot_id)
