from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from models.light.accessories import Filter, Gel, HeatRow, Stand
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Modifier, Trigger
from models.problems import InputProblem
from models.store.engine import Store
from models.store.kit import (
    TABLES,
    KitClash,
    add_kit,
    change_kit,
    get_kit,
    list_kit,
)

SMALL = Flash("small", "small flash, guide number 20, wide", ((24.0, 20.0), (105.0, 36.0)), hss_loss_stops=2.0)
CASES = [
    SMALL,
    Modifier("grid-20", "20 degree grid", "grid", 1.3, 105.0),
    Camera("body", "body with a standard zoom", highest_iso=12800),
    Trigger("radio", "radio trigger", 1 / 160, passes_hss=True),
    BatterySet("aa", "four rechargeable AA", "NiMH", 150, 1.2),
    replace(SMALL, heat=(HeatRow(1, 1 / 2, 15, 600), HeatRow(1 / 4, 1 / 8, 40, 600)), rungs_per_stop=1),
    Modifier("strip", "strip box", "box", 2.3, 24.0, 70.0, (0.3, 0.9), 0.8),
    Trigger("many", "radio of many channels", channels=32),
    Gel("1/2 orange", 0.5, 109.0, "half-orange"),
    Filter("nd-3", "three stops", 3.0),
    Stand("tall", "tall stand", 2.6, 1.05, 5.5),
]


@pytest.mark.parametrize("item", CASES)
def test_a_piece_of_kit_comes_back_equal(store: Store, item: Any) -> None:
    with store.writing() as s:
        add_kit(s, item)
    with store.reading() as s:
        assert list_kit(s, type(item)) == (item,)


@pytest.mark.parametrize("kind", TABLES)
def test_each_table_has_a_column_for_each_field(kind: type) -> None:
    own = {"number", "version", "retired"}
    assert {column.name for column in TABLES[kind].c} - own == {field.name for field in fields(kind)}


def test_kit_is_listed_in_the_order_it_was_added(store: Store) -> None:
    with store.writing() as s:
        for key in ("z", "a", "m"):
            add_kit(s, replace(SMALL, id=key))
    with store.reading() as s:
        assert [flash.id for flash in list_kit(s, Flash)] == ["z", "a", "m"]


def test_the_same_piece_twice_is_refused(store: Store) -> None:
    with store.writing() as s:
        add_kit(s, SMALL)
        with pytest.raises(InputProblem, match="'small' is in the kit already"):
            add_kit(s, SMALL)


@pytest.mark.parametrize(("field", "text"), [("id", "  "), ("name", ""), ("name", "\ud800")])
def test_a_piece_without_a_proper_name_is_refused(store: Store, field: str, text: str) -> None:
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        add_kit(s, replace(SMALL, **{field: text}))
    assert problem.value.field == field


def test_a_change_needs_the_version_that_was_read(store: Store) -> None:
    with store.writing() as s:
        add_kit(s, SMALL)
        measured = replace(SMALL, measured=True)
        theirs = change_kit(s, 1, measured)
        assert (theirs.item, theirs.version) == (measured, 2)
        with pytest.raises(KitClash) as clash:
            change_kit(s, 1, replace(SMALL, beam_note="narrow"))
        assert clash.value.current == theirs
        with pytest.raises(InputProblem, match="not in the kit"):
            change_kit(s, 1, replace(SMALL, id="other"))


def test_retired_kit_leaves_the_list_but_not_the_record(store: Store) -> None:
    with store.writing() as s:
        add_kit(s, SMALL)
        assert change_kit(s, 1, SMALL, retired=True).retired
        assert list_kit(s, Flash) == ()
        entry = get_kit(s, Flash, "small")
        assert entry is not None
        assert entry.item == SMALL
        change_kit(s, entry.version, SMALL)
        assert list_kit(s, Flash) == (SMALL,)
