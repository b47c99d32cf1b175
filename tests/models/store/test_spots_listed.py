from __future__ import annotations

import pytest
import sqlalchemy as sa
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import (
    Missing,
    SpotInView,
    add_spot,
    count_spots,
    find_spot,
    list_spots,
    spots,
    spots_in_view,
)
from models.street.spot import SpotDraft
from models.street.town import Box


def named(name: str, latitude_deg: float = 52.53, longitude_deg: float = 5.23) -> SpotDraft:
    return SpotDraft(name=name, latitude_deg=latitude_deg, longitude_deg=longitude_deg, zone="Europe/Amsterdam")


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
        across = spots_in_view(s, Box(-18.0, 179.0, -16.0, -179.0))
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
        assert spots_in_view(s, box) == tuple(
            SpotInView(**{name: getattr(spot, name) for name in SpotInView.__dataclass_fields__}) for spot in listed
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


@pytest.mark.parametrize("query", ["page", "positions"])
def test_lists_of_thousands_go_by_an_index(store: Store, query: str) -> None:
    """The page by name walks the index of names; a box is looked up in the index of places."""
    seen: list[str] = []
    with store.reading() as s:
        sa.event.listen(s.connection(), "before_cursor_execute", lambda c, k, sql, given, *_: seen.append((sql, given)))
        if query == "page":
            list_spots(s, limit=50)
        else:
            spots_in_view(s, Box(52.5, 5.2, 52.6, 5.3), limit=50)
        sql, values = seen[0]
        plan = " ".join(row[-1] for row in s.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {sql}", values))
    assert ("ix_spots_name_key_id" if query == "page" else "ix_spots_") in plan
    assert query == "positions" or "TEMP B-TREE" not in plan
