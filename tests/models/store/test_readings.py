"""Readings of flashes: kept, put aside, brought back; kit of before the data sheets keeps its figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic import command

from models.light.kit import Flash, Modifier, Trigger
from models.light.measuring import FlashReading
from models.problems import InputProblem
from models.store.engine import Store, migrating, open_store, upgrade
from models.store.kit import add_kit, list_kit
from models.store.readings import add_reading, delete_reading, list_readings, restore_reading
from models.store.versions import Clash

SMALL = Flash("small", "small flash", ((24.0, 20.0),))
DOME = Modifier("dome", "dome", "diffuser", 1.5)
BARE = FlashReading(flash_id="small", on=date(2026, 10, 17), distance_m=2.0, aperture=9.0)


@pytest.fixture
def kit(store: Store) -> Store:
    with store.writing() as s:
        add_kit(s, SMALL)
        add_kit(s, DOME)
    return store


def test_readings_come_back_equal_the_oldest_first(kit: Store) -> None:
    behind = replace(BARE, on=date(2026, 9, 1), zoom_mm=24.0, modifier_id="dome", aperture=5.0, kind="photo")
    with kit.writing() as s:
        for reading in (BARE, behind):
            add_reading(s, reading)
    with kit.reading() as s:
        first, second = list_readings(s)
    assert (first.modifier_id, first.on, first.kind, first.zoom_mm) == ("dome", date(2026, 9, 1), "photo", 24.0)
    assert second.guide_number_m == 18.0


def test_a_reading_is_put_aside_and_brought_back(kit: Store) -> None:
    with kit.writing() as s:
        kept = add_reading(s, BARE)
        delete_reading(s, kept.id, kept.version)
        assert list_readings(s) == ()
        with pytest.raises(Clash):
            delete_reading(s, kept.id, kept.version)
        restore_reading(s, kept.id)
        assert [reading.id for reading in list_readings(s)] == [kept.id]


@pytest.mark.parametrize(
    ("changes", "field"), [({"flash_id": "none"}, "flash_id"), ({"modifier_id": "none"}, "modifier_id")]
)
def test_a_reading_of_nothing_in_the_kit_is_refused(kit: Store, changes: dict[str, str], field: str) -> None:
    with kit.writing() as s, pytest.raises(InputProblem) as problem:
        add_reading(s, replace(BARE, **changes))
    assert problem.value.field == field


def test_kit_of_before_the_data_sheets_keeps_its_figures(tmp_path: Path) -> None:
    store = open_store(f"sqlite:///{tmp_path / 'old.sqlite3'}")
    with migrating(store.engine.url) as config:
        command.upgrade(config, "0006")
    with store.writing() as s:
        s.execute(
            sa.text(
                "INSERT INTO flashes (id, name, guide_numbers, measured, lowest_power, recycle_full_s, clean_sync_s,"
                " hss_loss_stops, beam_note, version, retired)"
                " VALUES ('small', 'small flash', '[[24, 20]]', 0, 0.0078125, 2.9, 0.004, NULL, '', 3, 0)"
            )
        )
        s.execute(
            sa.text(
                "INSERT INTO modifiers (id, name, kind, loss_stops, measured_zoom_mm, version, retired)"
                " VALUES ('dome', 'dome', 'diffuser', 1.5, NULL, 1, 0)"
            )
        )
        s.execute(
            sa.text(
                "INSERT INTO triggers (id, name, sync_s, passes_hss, version, retired) VALUES ('t','t',0.005,0,1,0)"
            )
        )
    upgrade(store)
    with store.reading() as s:
        assert list_kit(s, Flash) == (SMALL,)
        assert list_kit(s, Modifier) == (DOME,)
        assert list_kit(s, Trigger) == (Trigger("t", "t"),)
    store.close()
