"""The kit page: what is owned, what is only printed, what is retired."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.gear.keeping import KitClash, bring_back, get_piece, kind_called, new_id, retire
from models.planning.gear.listing import kit_page
from models.planning.kit import kit_of
from models.store.versions import Missing


def test_an_empty_kit_says_where_to_begin(store):
    page = kit_page(store)
    assert page.answer.startswith("No kit is noted yet. Begin with a flash and a camera")
    assert [group.rows for group in page.groups] == [()] * 8


def test_what_is_owned_and_what_is_only_printed(kit):
    page = kit_page(kit)
    assert page.answer == (
        "You have 4 flashes, 9 modifiers, 2 cameras, 2 triggers, 4 battery sets, 3 gels, 2 filters and 2 stands. "
        "2 of 4 flashes are only printed, not measured (small flash, guide number 20; large flash, guide number 28): "
        "their guide numbers are taken half a stop low."
    )
    small = page.groups[0].rows[0]
    assert small.only_printed
    assert [(figure.label, figure.text) for figure in small.figures] == [
        ("Guide number", "20 m at 24 mm to 34 m at 105 mm"),
        ("Down to", "1/64"),
        ("Ready after", "4 s"),
    ]
    grid = page.groups[1].rows[0]
    assert [figure.known for figure in grid.figures] == [True, True, True, False, True]


def test_retired_pieces_stand_apart_and_come_back(kit):
    flashes = kind_called("flashes")
    entry = get_piece(kit, flashes, "small")
    retire(kit, flashes, "small", entry.version)
    group = kit_page(kit).groups[0]
    assert [row.id for row in group.retired] == ["small"]
    assert "small" not in [row.id for row in group.rows]
    with pytest.raises(KitClash):
        retire(kit, flashes, "small", entry.version)
    assert bring_back(kit, flashes, "small").item == entry.item
    assert bring_back(kit, flashes, "small").version == entry.version + 2
    assert kit_of(kit) == read_kit(HAVENMARK / "kit.toml")


def test_what_is_not_there(kit):
    with pytest.raises(Missing, match="kind of kit"):
        kind_called("lenses")
    with pytest.raises(Missing, match="no flash 'none'"):
        get_piece(kit, kind_called("flashes"), "none")
    assert new_id(kit, kind_called("flashes"), "Small") == "small-2"
