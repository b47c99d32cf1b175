"""Areas from a file: looked into first, then kept whole or not at all."""

from __future__ import annotations

import json
from typing import Any

import pytest

from models.exchange.areas import areas_collection
from models.planning.rules.areas import add_area, all_areas
from models.planning.rules.areas_import import import_areas, preview_areas
from models.planning.rules.map_areas import areas_in_view, areas_to_take
from models.problems import InputProblem
from models.store.engine import Store
from models.street.town import Box
from tests.models.planning.rules.town import HOSTILE, area, square


def as_file(*drafts: Any) -> bytes:
    return json.dumps(areas_collection(drafts)).encode()


def broken() -> bytes:
    """A good area, one that crosses itself, one of an unknown kind, one without an authority."""
    good = areas_collection([area(), area(name="Bow"), area(name="Palace"), area(name="Nobody's")])
    for feature, change in zip(good["features"][2:], ({"kind": "palace"}, {"authority": ""}), strict=True):
        feature["properties"] |= change
    ring = good["features"][1]["geometry"]["coordinates"][0]
    ring[1], ring[2] = ring[2], ring[1]
    return json.dumps(good).encode()


def test_a_look_keeps_nothing(plans: Store) -> None:
    found = preview_areas(plans, as_file(area(), area(name="Old quay", kind="waterfront", no_passing=True)))
    assert found.answer == "2 areas can come in. Nothing is kept yet."
    assert [(one.name, one.kind_words, one.no_passing, one.there) for one in found.areas] == [
        ("Corn Square", "public street", False, False),
        ("Old quay", "waterfront", True, False),
    ]
    assert all_areas(plans) == ()


def test_what_is_refused_is_named_and_nothing_comes_in(plans: Store) -> None:
    found = preview_areas(plans, broken())
    assert found.answer == "Nothing can come in until 3 things in the file are put right."
    assert (found.areas, found.new) == ((), 0)
    assert [where for where, _ in found.refused] == ["feature 2 'Bow'", "feature 3 'Palace'", 'feature 4 "Nobody\'s"']
    assert "crosses or touches itself near latitude" in found.refused[0][1]
    with pytest.raises(InputProblem):
        import_areas(plans, broken())
    assert all_areas(plans) == ()


@pytest.mark.parametrize("data", [b"", b"{", b"[]", b"\xff", b'{"type": "Topology"}', b"<svg/>"])
def test_what_is_no_geojson_is_said(plans: Store, data: bytes) -> None:
    found = preview_areas(plans, data)
    assert [where for where, _ in found.refused] == ["file"]
    assert found.answer == "Nothing can come in until 1 thing in the file is put right."


def test_an_empty_file_is_said(plans: Store) -> None:
    assert preview_areas(plans, as_file()).answer == "The file holds no areas."


def test_a_second_import_adds_only_what_is_new(plans: Store) -> None:
    assert import_areas(plans, as_file(area())) == ("1 area brought in. No rule came with it.",)
    again = as_file(area(), area(name="Old quay"))
    assert preview_areas(plans, again).answer == "1 area can come in; 1 is there already. Nothing is kept yet."
    assert import_areas(plans, again) == (
        "1 area brought in. No rule came with it.",
        "1 area of the same name and outline was there already and stays as it is.",
    )
    assert preview_areas(plans, again).answer == "All 2 areas of the file are there already."
    assert [one.name for one in all_areas(plans)] == ["Corn Square", "Old quay"]


def test_an_area_typed_the_other_way_round_is_known_again(plans: Store) -> None:
    (((*ring,),),) = square()
    add_area(plans, area(shape=((tuple(reversed(ring)),),)))
    assert preview_areas(plans, json.dumps(areas_to_take(plans)).encode()).new == 0


def test_kind_and_authority_may_be_said_for_all(plans: Store) -> None:
    bare = areas_collection([area()])
    for name in ("kind", "authority"):
        del bare["features"][0]["properties"][name]
    data = json.dumps(bare).encode()
    assert preview_areas(plans, data).refused
    import_areas(plans, data, kind="park", authority="Parks office")
    (came,) = all_areas(plans)
    assert (came.kind, came.authority) == ("park", "Parks office")


def test_what_is_taken_away_comes_in_elsewhere_the_same(plans: Store) -> None:
    hole = square(52.522, 5.222, 0.001)[0][0]
    drafts = [area(name=HOSTILE, notes="x"), area(name="B", shape=((square()[0][0], hole), *square(52.6)))]
    for draft in drafts:
        add_area(plans, draft)
    taken = json.dumps(areas_to_take(plans)).encode()
    assert [one.there for one in preview_areas(plans, taken).areas] == [True, True]


def test_the_map_gets_what_is_in_view_with_its_words(plans: Store) -> None:
    here = add_area(plans, area(no_passing=True))
    add_area(plans, area(name="Elsewhere", shape=square(10.0, 10.0)))
    (feature,) = areas_in_view(plans, Box(52.5, 5.2, 52.6, 5.3))["features"]
    assert feature["id"] == here.id
    assert feature["properties"] == {
        "name": "Corn Square",
        "kind": "public_street",
        "words": "public street, to be asked about for walking through too; Council",
    }
    assert feature["geometry"]["coordinates"][0][0] == [5.22, 52.52]
