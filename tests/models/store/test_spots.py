from __future__ import annotations

from dataclasses import FrozenInstanceError, fields, replace
from datetime import UTC, datetime, timedelta

import pytest
import sqlalchemy as sa

from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import (
    Clash,
    Missing,
    Spot,
    add_spot,
    add_spots,
    change_spot,
    count_spots,
    delete_spot,
    find_spot,
    get_spot,
    list_spots,
    restore_spot,
    spots,
    spots_in_view,
)
from models.store.spots import shelf as spots_kept
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import SpotDraft
from tests.models.store.at_once import outcomes_at_once

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)


def named(name: str, latitude_deg: float = 52.53, longitude_deg: float = 5.23) -> SpotDraft:
    return SpotDraft(name=name, latitude_deg=latitude_deg, longitude_deg=longitude_deg, zone="Europe/Amsterdam")


FULL = SpotDraft(
    name="Market arcade",
    latitude_deg=52.531,
    longitude_deg=5.231,
    zone="Europe/Amsterdam",
    floor_m=-0.5,
    roof="arcade",
    wall_surface="brick",
    wall_reflectance=0.25,
    ground_surface="cobbles",
    ground_reflectance=0.2,
    pavement_width_m=3.5,
    footfall_note="busy on market days",
    shade_note="deep after two",
    surface_note="warm brick opposite",
    hazards="bollards",
    facilities="café",
    controller="market office",
    notes="ask the fishmonger",
    turbidity=4.0,
    lighting_class="P2",
    night_ev100=2.5,
    looking_deg=270.0,
    canopies=(Canopy(200.0, 250.0, 20.0, 60.0, 0.25, 0.6, (5, 6, 7), "limes"),),
    measured=(SkylinePoint(90.0, 12.5), SkylinePoint(120.0, 14.0)),
)


def test_a_spot_comes_back_with_all_that_was_noted(store: Store) -> None:
    with store.writing() as s:
        added = add_spot(s, FULL)
    with store.reading() as s:
        kept = get_spot(s, added.id)
    assert kept == added
    assert kept.draft == FULL
    assert (kept.version, kept.deleted_at) == (1, None)


def test_the_table_has_a_column_for_each_field_of_a_spot() -> None:
    assert {column.name for column in spots.c} == {field.name for field in fields(Spot)} | {"name_key"}


def test_what_is_handed_out_cannot_be_changed_in_place(store: Store) -> None:
    with store.writing() as s:
        added = add_spot(s, FULL)
    with pytest.raises(FrozenInstanceError):
        added.name = "elsewhere"  # type: ignore[misc]


def test_a_bad_draft_is_refused_and_nothing_kept(store: Store) -> None:
    with store.writing() as s, pytest.raises(InputProblem, match="latitude_deg: 95 is outside"):
        add_spot(s, named("Lighthouse", latitude_deg=95.0))
    with store.reading() as s:
        assert count_spots(s) == 0


def test_many_spots_come_at_once(store: Store) -> None:
    drafts = [named(f"spot {k:02}") for k in range(20)]
    with store.writing() as s:
        add_spots(s, [])
        add_spots(s, drafts)
        assert [spot.draft for spot in list_spots(s)] == drafts


def test_of_many_spots_the_bad_one_is_named_and_none_is_kept(store: Store) -> None:
    with store.writing() as s:
        with pytest.raises(InputProblem) as problem:
            add_spots(s, [FULL, named("Lighthouse", latitude_deg=95.0)])
        assert count_spots(s) == 0
    assert problem.value.field == "spot 2: latitude_deg"


def test_a_change_raises_the_version(store: Store) -> None:
    with store.writing() as s:
        first = add_spot(s, FULL)
        second = change_spot(s, first.id, 1, replace(FULL, name="Arcade", measured=()))
    assert (second.version, second.name, second.measured) == (2, "Arcade", ())
    with store.reading() as s:
        assert get_spot(s, first.id) == second


def test_a_change_with_a_stale_version_clashes_and_hands_over_what_is_kept(store: Store) -> None:
    with store.writing() as s:
        first = add_spot(s, FULL)
        theirs = change_spot(s, first.id, 1, replace(FULL, hazards="tram"))
    with store.writing() as s, pytest.raises(Clash) as clash:
        change_spot(s, first.id, 1, replace(FULL, hazards="bicycles"))
    assert clash.value.current == theirs
    with store.reading() as s:
        assert get_spot(s, first.id) == theirs


def test_of_two_changes_at_once_one_clashes(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
    drafts = [replace(FULL, hazards=hazards) for hazards in ("tram", "bicycles")]
    changes = [lambda s, draft=draft: change_spot(s, spot.id, 1, draft) for draft in drafts]
    assert outcomes_at_once(store, *changes) == ["clash", "kept"]


def test_a_change_of_a_spot_deleted_in_between_clashes(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        delete_spot(s, spot.id, 1, now=NOON)
    with store.writing() as s, pytest.raises(Clash) as clash:
        change_spot(s, spot.id, 1, FULL)
    assert clash.value.current.deleted_at == NOON


def test_a_deleted_spot_is_gone_from_every_list_and_comes_back_whole(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        deleted = delete_spot(s, spot.id, 1, now=NOON)
    with store.reading() as s:
        assert (list_spots(s), spots_in_view(s, None), count_spots(s)) == ((), (), 0)
        with pytest.raises(Missing):
            get_spot(s, spot.id)
        with pytest.raises(Missing):
            find_spot(s, "Market arcade")
    with store.writing() as s:
        back = restore_spot(s, spot.id)
    assert back == replace(deleted, deleted_at=None, version=deleted.version + 1)
    assert back.draft == FULL


def test_deleting_with_a_stale_version_clashes_and_twice_is_missing(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        change_spot(s, spot.id, 1, FULL)
        with pytest.raises(Clash):
            delete_spot(s, spot.id, 1)
        deleted = delete_spot(s, spot.id, 2)
        with pytest.raises(Missing):
            delete_spot(s, spot.id, deleted.version)


def test_restoring_what_was_never_deleted_changes_nothing(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        assert restore_spot(s, spot.id) == spot
        with pytest.raises(Missing):
            restore_spot(s, spot.id + 1)


def test_purging_throws_away_what_was_deleted_over_thirty_days_ago(store: Store) -> None:
    with store.writing() as s:
        old, recent, kept = (add_spot(s, named(name)) for name in ("old", "recent", "kept"))
        delete_spot(s, old.id, 1, now=NOON - timedelta(days=30, seconds=1))
        delete_spot(s, recent.id, 1, now=NOON - timedelta(days=29))
        assert spots_kept.purge(s, now=NOON) == 1
        assert restore_spot(s, recent.id).name == "recent"
        assert get_spot(s, kept.id) == kept
        with pytest.raises(Missing):
            restore_spot(s, old.id)


def test_the_number_of_a_purged_spot_is_never_given_again(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        delete_spot(s, spot.id, 1, now=NOON - timedelta(days=90))
        spots_kept.purge(s, now=NOON)
        assert add_spot(s, FULL).id > spot.id


def test_a_spot_named_like_an_attack_is_only_a_name(store: Store) -> None:
    name = "'); DROP TABLE spots; -- <script>alert(1)</script> \u202e"
    with store.writing() as s:
        add_spot(s, named(name))
    with store.reading() as s:
        assert list_spots(s)[0].name == name


def test_the_database_itself_refuses_a_latitude_of_95(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
    with pytest.raises(sa.exc.IntegrityError, match="ck_spots_latitude"), store.writing() as s:
        s.execute(sa.update(spots).where(spots.c.id == spot.id).values(latitude_deg=95.0))
