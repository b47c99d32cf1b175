"""Heights as people write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.heights import HeightRule, metres, reading, settle
from models.problems import InputProblem

FOOT_M = 0.3048  # exact, international yard and pound agreement of 1959


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (4, 4.0),
        ("4", 4.0),
        ("12.13 m", 12.13),
        ("12,5", 12.5),
        ("48.5 m", 48.5),
        ("3 metres", 3.0),
        ("1200 cm", 12.0),
        ("40 ft", 40 * FOOT_M),
        ("40'", 40 * FOOT_M),
        ("40' 6\"", 40.5 * FOOT_M),
        ("40 ft 6 in", 40.5 * FOOT_M),
        (" 10 M ", 10.0),
    ],
)
def test_lengths_as_people_write_them(text: object, expected: float) -> None:
    assert metres(text) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("text", ["tall", "", "-3", "nan", "1e5", "12 storeys", "about 12", None, True, [12], 10**400])
def test_what_is_no_length_is_not_guessed_at(text: object) -> None:
    assert metres(text) is None


def test_a_height_comes_before_storeys_and_storeys_before_a_guess() -> None:
    both = reading({"height": "12.13 m", "building:levels": "5"})
    storeys = reading({"building:levels": "2.5", "roof:levels": "1"}, HeightRule(storey_m=3.0))
    nothing = reading({"building": "yes"})
    assert (both.top_m, both.source) == (12.13, "surveyed")
    assert (storeys.top_m, storeys.source) == (pytest.approx(10.5), "levels")
    assert (nothing.top_m, nothing.source) == (None, "assumed")


@pytest.mark.parametrize("tall", ["tall", "0", "5000", "12000 ft"])
def test_a_height_that_makes_no_sense_gives_way_to_the_storeys_and_is_told(tall: str) -> None:
    found = reading({"height": tall, "building:levels": "3"}, HeightRule(storey_m=3.0))
    assert (found.top_m, found.source) == (9.0, "levels")
    assert found.misread == (f"height '{tall}'",)


def test_a_raised_part_has_its_foot_from_height_or_storeys() -> None:
    assert reading({"height": "17.5", "min_height": "4.6"}).bottom_m == 4.6
    assert reading({"building:levels": "5", "building:min_level": "2"}, HeightRule(storey_m=3.0)).bottom_m == 6.0
    upside_down = reading({"height": "6", "min_height": "8"})
    assert upside_down.bottom_m == 0.0
    assert upside_down.misread == ("a bottom at 8 m under a top at 6 m",)


def test_what_is_unknown_takes_the_middle_of_the_known_and_a_wide_doubt() -> None:
    known = [reading({"height": str(height)}) for height in range(10, 31)]
    settled, notes = settle([*known, reading({})])
    assert (settled[-1].top_m, settled[-1].source, settled[-1].doubt_m) == (20.0, "assumed", 10.0)
    assert notes[0] == "Heights: 21 as given, 0 from storeys, 1 assumed."
    assert "20 m" in notes[1]


def test_too_few_known_heights_leave_the_height_that_was_set() -> None:
    settled, notes = settle([reading({"height": "30"}), reading({})], HeightRule(assumed_m=8.0))
    assert settled[1].top_m == 8.0
    assert "8 m" in notes[1]


def test_sheds_are_low_and_what_hangs_in_the_air_is_one_storey_thick() -> None:
    settled, _ = settle([reading({"building": "shed"}), reading({"min_height": "18"})], HeightRule(storey_m=3.0))
    assert (settled[0].top_m, settled[0].source) == (3.0, "assumed")
    assert (settled[1].bottom_m, settled[1].top_m) == (18.0, 21.0)


def test_feet_are_said_to_have_been_turned_into_metres() -> None:
    _, notes = settle([reading({"height": "40 ft"})])
    assert notes[-1] == "Heights in other units, turned into metres: 1, such as height '40 ft' is 12.2 m."


@pytest.mark.parametrize(("storey_m", "assumed_m"), [(0.5, 12.0), (30.0, 12.0), (3.2, 0.0), (3.2, 5000.0)])
def test_a_rule_that_cannot_be_meant_is_refused(storey_m: float, assumed_m: float) -> None:
    with pytest.raises(InputProblem):
        HeightRule(storey_m, assumed_m)


WRITTEN = st.one_of(st.text(max_size=12), st.integers(), st.floats(), st.none(), st.booleans(), st.lists(st.integers()))


@given(
    tags=st.dictionaries(st.sampled_from(["height", "min_height", "building:levels", "building:min_level"]), WRITTEN)
)
def test_whatever_is_written_a_building_has_its_top_above_its_bottom(tags: dict[str, object]) -> None:
    (one,), _ = settle([reading(tags)])
    assert 0 <= one.bottom_m < one.top_m
    assert one.doubt_m > 0
