from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import LIGHTING_CLASSES, LONGEST_NAME, RANGES, SpotDraft, checked

LANE = SpotDraft(name="Foundry Lane", latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam")
LEAVES = Canopy(200.0, 250.0, 20.0, 60.0, 0.25, 0.6)


def test_a_good_draft_stays_as_it_is() -> None:
    full = replace(LANE, pavement_width_m=3.0, lighting_class="C5", night_ev100=2.0, canopies=(LEAVES,))
    assert checked(full) == full


def test_texts_are_trimmed_and_a_name_is_one_line() -> None:
    tidy = checked(replace(LANE, name="  Foundry \n Lane ", hazards=" tram\nbollards "))
    assert (tidy.name, tidy.hazards) == ("Foundry Lane", "tram\nbollards")


def test_a_bearing_of_360_is_north() -> None:
    assert checked(replace(LANE, looking_deg=360.0)).looking_deg == 0.0


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", "   "),
        ("name", "x" * (LONGEST_NAME + 1)),
        ("name", "bell\x07"),
        ("name", "\ud800"),
        ("name", None),
        ("zone", "Europe/Havenmark"),
        ("zone", ""),
        ("zone", "../../etc/passwd"),
        ("roof", "tent"),
        ("lighting_class", "P9"),
        ("notes", "x" * 4001),
        ("notes", "nul\x00"),
        ("latitude_deg", "52.5"),
        ("latitude_deg", None),
        ("latitude_deg", True),
        ("measured", (SkylinePoint(10.0, 20.0),) * 721),
    ],
)
def test_what_cannot_be_used_is_refused_by_field(field: str, value: Any) -> None:
    with pytest.raises(InputProblem) as problem:
        checked(replace(LANE, **{field: value}))
    assert problem.value.field == field


@pytest.mark.parametrize("field", RANGES)
def test_each_number_is_kept_at_its_bounds_and_refused_just_outside(field: str) -> None:
    lowest, highest, _ = RANGES[field]
    for good in (lowest, highest):
        assert getattr(checked(replace(LANE, **{field: good})), field) % 360 == pytest.approx(good % 360)
    for bad in (lowest - 0.001, highest + 0.001, float("nan"), float("inf")):
        with pytest.raises(InputProblem) as problem:
            checked(replace(LANE, **{field: bad}))
        assert problem.value.field == field


def test_latitude_and_longitude_reach_as_far_as_the_earth() -> None:
    assert RANGES["latitude_deg"][:2] == (-90, 90)
    assert RANGES["longitude_deg"][:2] == (-180, 180)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"bearing_from_deg": -1.0}, "bearing"),
        ({"bearing_to_deg": 361.0}, "bearing"),
        ({"elevation_to_deg": 91.0}, "elevation"),
        ({"elevation_from_deg": 60.0}, "upper edge"),
        ({"transmittance_leaf": 1.2}, "light let through"),
        ({"transmittance_bare": float("nan")}, "not a number"),
        ({"leaf_months": (0, 5)}, "1 to 12"),
    ],
)
def test_a_canopy_that_cannot_be_is_refused_by_its_number(change: dict[str, Any], said: str) -> None:
    with pytest.raises(InputProblem, match=said) as problem:
        checked(replace(LANE, canopies=(LEAVES, replace(LEAVES, **change))))
    assert problem.value.field == "canopies 2"


@pytest.mark.parametrize("point", [SkylinePoint(400.0, 10.0), SkylinePoint(10.0, 95.0), SkylinePoint(10.0, -11.0)])
def test_a_measured_point_that_cannot_be_is_refused_by_its_number(point: SkylinePoint) -> None:
    with pytest.raises(InputProblem) as problem:
        checked(replace(LANE, measured=(point,)))
    assert problem.value.field == "measured 1"


@given(
    st.builds(
        SpotDraft,
        name=st.text(max_size=130),
        latitude_deg=st.floats(),
        longitude_deg=st.floats(-200, 200),
        zone=st.sampled_from(["Europe/Amsterdam", "UTC", "nowhere"]),
        notes=st.text(max_size=50),
        lighting_class=st.none() | st.sampled_from(LIGHTING_CLASSES),
    )
)
def test_any_draft_is_either_refused_or_checks_as_itself_from_then_on(draft: SpotDraft) -> None:
    try:
        good = checked(draft)
    except InputProblem:
        return
    assert checked(good) == good
    assert -90 <= good.latitude_deg <= 90
    assert 1 <= len(good.name) <= LONGEST_NAME
    good.name.encode()
