from __future__ import annotations

import threading
from dataclasses import FrozenInstanceError, fields, replace
from datetime import UTC, datetime, timedelta

import pytest
import sqlalchemy as sa
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import (
    Clash,
    Missing,
    Spot,
    SpotPosition,
    add_spot,
    add_spots,
    change_spot,
    count_spots,
    delete_spot,
    find_spot,
    get_spot,
    list_spots,
    positions_in,
    purge_spots,
    restore_spot,
    spots,
)
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import SpotDraft
from models.street.town import Box

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
    outcomes, gate = [], threading.Barrier(2)

    def change(hazards: str) -> None:
        gate.wait()
        try:
            with store.writing() as s:
                change_spot(s, spot.id, 1, replace(FULL, hazards=hazards))
            outcomes.append("kept")
        except Clash:
            outcomes.append("clash")

    threads = [threading.Thread(target=change, args=(hazards,)) for hazards in ("tram", "bicycles")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(outcomes) == ["clash", "kept"]


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
        assert (list_spots(s), positions_in(s, None), count_spots(s)) == ((), (), 0)
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
        assert purge_spots(s, now=NOON) == 1
        assert restore_spot(s, recent.id).name == "recent"
        assert get_spot(s, kept.id) == kept
        with pytest.raises(Missing):
            restore_spot(s, old.id)


def test_the_number_of_a_purged_spot_is_never_given_again(store: Store) -> None:
    with store.writing() as s:
        spot = add_spot(s, FULL)
        delete_spot(s, spot.id, 1, now=NOON - timedelta(days=90))
        purge_spots(s, now=NOON)
        assert add_spot(s, FULL).id > spot.id


def test_lists_are_by_name_whatever_the_case_and_in_pages(store: Store) -> None:
    with store.writing() as s:
        for name in ("quay", "Élan steps", "Arcade", "bridge", "ÉLAN bank"):
            add_spot(s, named(name))
    with store.reading() as s:
        names = [spot.name for spot in list_spots(s)]
        paged = [spot.name for start in (0, 2, 4) for spot in list_spots(s, limit=2, offset=start)]
    assert names == ["Arcade", "bridge", "quay", "ÉLAN bank", "Élan steps"]
    assert paged == names


def test_lists_by_distance_start_with_the_nearest(store: Store) -> None:
    with store.writing() as s:
        for name, longitude in (("far", 5.30), ("near", 5.24), ("here", 5.23)):
            add_spot(s, named(name, longitude_deg=longitude))
        add_spot(s, named("a little north", latitude_deg=52.5355))  # 0.61 km; 0.01 degrees east is 0.68 km here
    with store.reading() as s:
        found = list_spots(s, order_by="distance", here=(52.53, 5.23))
        with pytest.raises(ValueError, match="here"):
            list_spots(s, order_by="distance")
    assert [spot.name for spot in found] == ["here", "a little north", "near", "far"]


def test_distance_goes_the_short_way_across_180_degrees(store: Store) -> None:
    with store.writing() as s:
        add_spot(s, named("west of it", -17.0, 179.9))
        add_spot(s, named("further west", -17.0, 179.0))
    with store.reading() as s:
        found = list_spots(s, order_by="distance", here=(-17.0, -179.9))
    assert [spot.name for spot in found] == ["west of it", "further west"]


def test_a_box_that_crosses_180_degrees_holds_both_sides(store: Store) -> None:
    with store.writing() as s:
        for name, longitude in (("east side", 179.9), ("west side", -179.9), ("far side", 0.0)):
            add_spot(s, named(name, -17.0, longitude))
    with store.reading() as s:
        across = positions_in(s, Box(-18.0, 179.0, -16.0, -179.0))
    assert [place.name for place in across] == ["east side", "west side"]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-90, 90), st.floats(-180, 180)), max_size=8),
    st.tuples(st.floats(-90, 90), st.floats(-90, 90)),
    st.tuples(st.floats(-180, 180), st.floats(-180, 180)),
)
def test_a_box_lists_counts_and_places_just_what_lies_in_it(
    shared_store: Store,
    places: list[tuple[float, float]],
    latitudes: tuple[float, float],
    longitudes: tuple[float, float],
) -> None:
    box = Box(min(latitudes), min(longitudes), max(latitudes), max(longitudes))
    with shared_store.writing() as s:
        s.execute(sa.delete(spots))
        for latitude, longitude in places:
            add_spot(s, named("somewhere", latitude, longitude))
        inside = sorted(
            (lat, lon) for lat, lon in places if box.south <= lat <= box.north and box.west <= lon <= box.east
        )
        listed = list_spots(s, box=box)
        assert sorted((spot.latitude_deg, spot.longitude_deg) for spot in listed) == inside
        assert count_spots(s, box=box) == len(inside)
        assert positions_in(s, box) == tuple(
            SpotPosition(spot.id, spot.name, spot.latitude_deg, spot.longitude_deg) for spot in listed
        )


def test_a_spot_is_found_by_number_by_name_and_by_part_of_a_name(store: Store) -> None:
    with store.writing() as s:
        lane, steps = add_spot(s, named("Foundry Lane")), add_spot(s, named("Foundry Lane steps"))
        odd = add_spot(s, named("100 % quay_side"))
        assert find_spot(s, f" {lane.id} ") == lane
        assert find_spot(s, "FOUNDRY  lane") == lane
        assert find_spot(s, "steps") == steps
        assert find_spot(s, "0 % q") == odd
        with pytest.raises(Missing):
            find_spot(s, "0 _ q")
        with pytest.raises(Missing):
            find_spot(s, "999")
        with pytest.raises(InputProblem, match=f"{lane.id} Foundry Lane, {steps.id} Foundry Lane steps"):
            find_spot(s, "foundry")


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


@pytest.mark.parametrize("query", ["page", "positions"])
def test_lists_of_thousands_go_by_an_index(store: Store, query: str) -> None:
    """The page by name walks the index of names; a box is looked up in the index of places."""
    seen: list[str] = []
    with store.reading() as s:
        sa.event.listen(s.connection(), "before_cursor_execute", lambda c, k, sql, given, *_: seen.append((sql, given)))
        if query == "page":
            list_spots(s, limit=50)
        else:
            positions_in(s, Box(52.5, 5.2, 52.6, 5.3), limit=50)
        sql, values = seen[0]
        plan = " ".join(row[-1] for row in s.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {sql}", values))
    assert ("ix_spots_name_key_id" if query == "page" else "ix_spots_") in plan
    assert query == "positions" or "TEMP B-TREE" not in plan
