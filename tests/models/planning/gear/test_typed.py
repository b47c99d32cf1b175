"""What people type about kit, there and back; slips are named by field."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.accessories import HeatRow
from models.planning.gear import typed
from models.planning.gear.fields import KINDS, covers_all
from models.planning.gear.form import form_of, form_of_none, id_for, read_piece, understood
from models.problems import InputProblem, InputProblems

FLASHES, MODIFIERS, CAMERAS, TRIGGERS, BATTERIES, GELS, FILTERS, STANDS = KINDS
FOOT_M, POUND_KG = 0.3048, 0.45359237
"""International yard and pound agreement of 1959, exact."""

FORMS = {
    "flashes": {"name": "flash", "guide_numbers": "24 mm 20", "measured": "no", "lowest_power": "1/64",
                "rungs_per_stop": "3", "recycle_full_s": "4", "clean_sync_s": "1/250"},
    "modifiers": {"name": "box", "kind": "box", "loss_stops": "2"},
    "cameras": {"name": "camera", "sync_s": "1/200", "base_iso": "100", "highest_iso": "6400",
                "min_shutter_s": "1/4000", "widest_aperture": "2.8", "smallest_aperture": "22"},
    "triggers": {"name": "radio", "sync_s": "1/200", "passes_hss": "no"},
    "batteries": {"name": "cells", "kind": "alkaline", "full_flashes": "110"},
    "gels": {"name": "1/2 orange", "loss_stops": "1/2", "shift_mired": "+109"},
    "filters": {"name": "three stops", "stops": "3"},
    "stands": {"name": "stand", "highest_m": "8 ft", "across_m": "1", "weight_kg": "4 lb"},
}  # fmt: skip
BAD = [
    ("flashes", "guide_numbers", "", "is needed"),
    ("flashes", "guide_numbers", "20", "no zoom with its guide number"),
    ("flashes", "guide_numbers", "24 mm 20, 24 mm 21", "stands there twice"),
    ("flashes", "guide_numbers", "24 mm 0.1", "a guide number lies from"),
    ("flashes", "guide_numbers", "2 mm 20", "out of reach"),
    ("flashes", "guide_numbers", "24 mm 20 m, 35 mm 80 ft, 50 mm 28", "both metres and feet"),
    ("flashes", "guide_numbers", ", ".join(f"{mm} mm 20" for mm in range(20, 70)), "at most 40"),
    ("flashes", "guide_numbers", "24 mm 66, 50 mm 92", "“50 mm 92”: in feet? Write ft behind it"),
    ("flashes", "guide_numbers", "99.9 mm 81", "in feet?"),
    ("flashes", "measured", "maybe", "neither yes nor no"),
    ("flashes", "lowest_power", "1/9999", "is not a power"),
    ("flashes", "lowest_power", "half", "cannot be read"),
    ("flashes", "rungs_per_stop", "7", "is none of: 3, 2, 1"),
    ("flashes", "recycle_full_s", "0", "out of reach"),
    ("flashes", "recycle_full_s", "nan", "cannot be read"),
    ("flashes", "clean_sync_s", "1/0", "cannot be read"),
    ("flashes", "hss_loss_stops", "-1", "0 to 10"),
    ("flashes", "heat", "1/1 lots", "is no heat row"),
    ("flashes", "heat", "1/4 to 1/2: 15 flashes, then 10 min", "from the stronger down"),
    ("flashes", "heat", "1/1: 0 flashes, then 10 min", "at least one flash"),
    ("flashes", "heat", "1/1: 15 flashes, then 10 parsecs", "is no heat row"),
    ("flashes", "heat", "1/1: 15 flashes, then 10 000 min", "is no heat row"),
    ("flashes", "beam_note", "x" * 121, "at most 120"),
    ("modifiers", "name", " ", "is needed"),
    ("modifiers", "name", "a\u0007b", "cannot be shown"),
    ("modifiers", "name", "a\ud800b", ""),
    ("modifiers", "kind", "cloud", "is none of"),
    ("modifiers", "loss_stops", "11", ""),
    ("modifiers", "measured_zoom_mm", "wide", "cannot be read"),
    ("modifiers", "beam_deg", "180", "out of reach"),
    ("modifiers", "face_m", "0 x 60 cm", "out of reach"),
    ("modifiers", "face_m", "big", "cannot be read"),
    ("modifiers", "weight_kg", "3 stone", "cannot be read"),
    ("cameras", "sync_s", "61 s", "out of reach"),
    ("cameras", "base_iso", "1e9", "not a whole number"),
    ("cameras", "highest_iso", "50", "must not be under the base ISO"),
    ("cameras", "min_shutter_s", "1/60", "must not be slower"),
    ("cameras", "widest_aperture", "f/0", "out of reach"),
    ("cameras", "smallest_aperture", "2", "must not be wider"),
    ("triggers", "sync_s", "", "is needed"),
    ("triggers", "passes_hss", "at times", "neither yes nor no"),
    ("triggers", "channels", "0", "out of reach"),
    ("batteries", "full_flashes", "some", "not a whole number"),
    ("batteries", "recycle_factor", "0", "out of reach"),
    ("gels", "loss_stops", "", "is needed"),
    ("gels", "shift_mired", "900", "out of reach"),
    ("filters", "stops", "0", "up to 20"),
    ("stands", "highest_m", "40 m", "out of reach"),
    ("stands", "across_m", "wide", "cannot be read"),
    ("stands", "weight_kg", "-1 kg", "out of reach"),
]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_the_table_holds_every_field_and_a_plain_form_is_read(kind) -> None:
    assert covers_all(kind)
    piece = read_piece(kind, FORMS[kind.name], "it")
    assert read_piece(kind, form_of(kind, piece), "it") == piece
    assert set(form_of_none(kind)) == {field.name for field in kind.fields}
    assert understood(kind, form_of(kind, piece)) == {}


@pytest.mark.parametrize(("kind_name", "field", "text", "message"), BAD)
def test_bad_input_is_named_by_its_field(kind_name: str, field: str, text: str, message: str) -> None:
    kind = next(kind for kind in KINDS if kind.name == kind_name)
    with pytest.raises(InputProblems) as raised:
        read_piece(kind, FORMS[kind_name] | {field: text}, "it")
    assert list(raised.value.by_field) == [field]
    assert message in raised.value.by_field[field]


def test_every_field_has_a_bad_input_tried() -> None:
    tried = {(kind, field) for kind, field, _, _ in BAD}
    shared = {"name", "kind"}
    missing = {(k.name, f.name) for k in KINDS for f in k.fields} - tried
    assert {field for _, field in missing} <= shared


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(InputProblems) as raised:
        read_piece(FLASHES, {"name": "f"}, "f")
    assert set(raised.value.by_field) == {"guide_numbers", "lowest_power", "recycle_full_s", "clean_sync_s"}


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        ("24 mm 20, 50 mm 28", ((24, 20), (50, 28))),
        ("50 mm: 28; 24 mm: 20", ((24, 20), (50, 28))),
        ("24 20\n50 28,5 m", ((24, 20), (50, 28.5))),
        ("24 mm 20,50 mm 28", ((24, 20), (50, 28))),
        ("24 mm 66, 50 mm 92 ft", ((24, 66 * FOOT_M), (50, 92 * FOOT_M))),
        ("50 mm 92 m", ((50, 92),)),
        ("50 mm 80, 100 mm 92", ((50, 80), (100, 92))),
        ("24 MM 20 M,50 MM 28 M", ((24, 20), (50, 28))),
        ("24 mm 66 feet, 50 mm 28 m", ((24, 66 * FOOT_M), (50, 28))),
    ],
)
def test_guide_numbers_as_people_type_them(text: str, pairs: tuple[tuple[float, float], ...]) -> None:
    assert typed.guide_numbers("g", text) == pairs


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("1/1 to 1/2: 15 flashes, then 10 min", HeatRow(1, 1 / 2, 15, 600)),
        ("full-1/4 20 flashes rest 300 s", HeatRow(1, 1 / 4, 20, 300)),
        ("1/8, 40, 2 min", HeatRow(1 / 8, 1 / 8, 40, 120)),
    ],
)
def test_heat_rows_as_people_type_them(text: str, row: HeatRow) -> None:
    assert typed.heat_rows("heat", text) == (row,)
    assert typed.heat_rows("heat", f"{text}\n{text}") == (row, row)


@pytest.mark.parametrize(
    ("text", "value"),
    [("1/250", 1 / 250), ("1/250 s", 1 / 250), ("250", 1 / 250), ("0.004 s", 0.004), ("0,5 s", 0.5)],
)
def test_shutter_times(text: str, value: float) -> None:
    assert typed.shutter("s", text) == value


@pytest.mark.parametrize(
    ("read", "text"),
    [(typed.aperture, "EV 12"), (typed.aperture, "f/Big"), (typed.shutter, "Soon"), (typed.power, "Half"),
     (typed.power, "Half %"), (typed.guide_numbers, "Wide Twenty"), (typed.heat_rows, "1/1 Lots"), (typed.face, "Big")],
)  # fmt: skip
def test_a_refusal_quotes_what_was_typed(read, text: str) -> None:
    with pytest.raises(InputProblem, match=f"“{text}”"):
        read("f", text)


def test_faces_lengths_and_weights() -> None:
    assert typed.face("f", "40 x 60 cm") == typed.face("f", "40x60cm") == typed.face("f", "0.4 by 0.6 m") == (0.4, 0.6)
    assert typed.face("f", "24 in") == pytest.approx((2 * FOOT_M, 2 * FOOT_M))
    assert typed.face("f", "2 ft x 60 cm") == pytest.approx((2 * FOOT_M, 0.6))
    assert typed.length("m", "6 ft", 0.1, 9) == pytest.approx(6 * FOOT_M)
    assert read_piece(STANDS, FORMS["stands"], "s").weight_kg == pytest.approx(4 * POUND_KG)
    assert typed.power("p", "50 %") == 0.5
    assert typed.aperture("a", "f/11") == typed.aperture("a", "11") == 11


def test_what_was_understood_is_shown_where_it_was_typed_otherwise() -> None:
    form = FORMS["flashes"] | {"guide_numbers": "24 mm 66 ft", "clean_sync_s": "250", "heat": "full, 20, 10 min"}
    assert understood(FLASHES, form) == {
        "guide_numbers": "20.1 m at 24 mm",
        "clean_sync_s": "1/250 s",
        "heat": "1/1 to 1/1: 20 flashes, then 10 min",
    }


@given(st.floats(1e-6, 1e6))
def test_numbers_are_written_so_that_they_come_back(value: float) -> None:
    assert float(typed.number_text(value)) == value


@given(st.lists(st.tuples(st.integers(10, 300), st.floats(1, 300)), min_size=1, max_size=8, unique_by=lambda p: p[0]))
def test_guide_numbers_there_and_back(pairs: list[tuple[int, float]]) -> None:
    kept = tuple(sorted((float(zoom), number) for zoom, number in pairs))
    assert typed.guide_numbers("g", typed.guide_text(kept)) == kept


@given(st.text(max_size=60))
def test_anything_typed_is_refused_or_read_and_comes_back(text: str) -> None:
    for kind in KINDS:
        for field in kind.fields:
            with suppress(InputProblem):
                value = field.value(text)
                assert field.text(value).strip() == "" or field.value(field.text(value)) == value


def test_ids_are_short_words_of_their_own() -> None:
    assert id_for("Small box, 40 cm", ()) == "small-box-40-cm"
    assert id_for("Small box, 40 cm", {"small-box-40-cm"}) == "small-box-40-cm-2"
    assert id_for("<../..>", ()) == id_for("雨", ()) == "piece"
    assert len(id_for("x" * 500, ())) <= 60
