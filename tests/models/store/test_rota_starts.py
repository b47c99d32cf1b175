"""What a rota began with: kept once, forgotten when all is taken back, gone with its workshop."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
import sqlalchemy as sa

from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.rota_starts import RotaStart, forget_rota_start, keep_rota_start, rota_start, rota_starts
from models.store.spots import add_spot
from models.street.spot import SpotDraft

STARTS = datetime(2026, 10, 17, 15, tzinfo=UTC)
FIRST = RotaStart((-1, -2, 5), ((3, 1, 1), (4, 2, 0)), 3)


@pytest.fixture
def workshop_id(store) -> int:
    with store.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        draft = WorkshopDraft(
            title="Evening", spot_id=spot.id, starts=STARTS, ends=STARTS + timedelta(hours=1), doing=Doing(group=4)
        )
        return kept.add_workshop(s, draft).id


def test_it_is_kept_once_and_read_back_as_it_was(store, workshop_id) -> None:
    with store.writing() as s:
        assert rota_start(s, workshop_id) is None
        keep_rota_start(s, workshop_id, FIRST)
        keep_rota_start(s, workshop_id, RotaStart((9,), ((1, 1, 1),), 5))
    with store.reading() as s:
        assert rota_start(s, workshop_id) == FIRST


def test_forgotten_it_may_be_kept_anew(store, workshop_id) -> None:
    with store.writing() as s:
        keep_rota_start(s, workshop_id, FIRST)
        forget_rota_start(s, workshop_id)
        forget_rota_start(s, workshop_id)
        assert rota_start(s, workshop_id) is None
        again = RotaStart((), (), 1)
        keep_rota_start(s, workshop_id, again)
        assert rota_start(s, workshop_id) == again


def test_it_goes_with_its_workshop(store, workshop_id) -> None:
    with store.writing() as s:
        keep_rota_start(s, workshop_id, FIRST)
        s.execute(sa.text("DELETE FROM workshops WHERE id = :id"), {"id": workshop_id})
        assert s.scalar(sa.select(sa.func.count()).select_from(rota_starts)) == 0
