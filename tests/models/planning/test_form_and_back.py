"""A spot shown in its form and sent back unchanged is the same spot, to the last digit: a new note moves nothing."""

from __future__ import annotations

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.planning.spot_form import read_spot_form, spot_form_of
from models.problems import InputProblems
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import LIGHTING_CLASSES, SpotDraft, checked
from models.street.surfaces import GROUNDS, WALLS

words = st.text(string.ascii_letters + string.digits + " ;,.-'éß大<>&", min_size=1, max_size=30).filter(
    lambda text: text.strip() == text and " ".join(text.split()) == text
)
notes = st.just("") | words
shares = st.floats(0, 0.95)
bearings = st.floats(0, 359.9)
heights = st.tuples(st.floats(0, 44), st.floats(45, 90))
months = st.lists(st.integers(1, 12), unique=True, max_size=12).map(lambda each: tuple(sorted(each)))
canopies = st.builds(
    lambda left, right, edges, leaf, bare, in_leaf, name: Canopy(left, right, *edges, leaf, bare, in_leaf, name),
    bearings, bearings, heights, shares, shares, months, words,
)  # fmt: skip
drafts = st.builds(
    SpotDraft,
    name=words,
    latitude_deg=st.floats(-90, 90),
    longitude_deg=st.floats(-180, 180),
    zone=st.sampled_from(("Europe/Amsterdam", "Pacific/Kiritimati", "UTC")),
    floor_m=st.floats(-100, 800),
    roof=st.sampled_from(("none", "arcade", "underpass")),
    wall_surface=st.sampled_from(("", *(surface.key for surface in WALLS))),
    wall_reflectance=shares,
    ground_surface=st.sampled_from(("", *(surface.key for surface in GROUNDS))),
    ground_reflectance=shares,
    pavement_width_m=st.none() | st.floats(0.5, 20),
    hazards=notes,
    controller=notes,
    turbidity=st.floats(1, 12),
    lighting_class=st.none() | st.sampled_from(LIGHTING_CLASSES),
    night_ev100=st.none() | st.floats(-8, 20),
    looking_deg=st.none() | bearings,
    canopies=st.lists(canopies, max_size=3).map(tuple),
    measured=st.lists(st.builds(SkylinePoint, bearings, st.floats(-10, 90)), max_size=4).map(tuple),
)


@given(drafts)
@settings(max_examples=60)
def test_the_form_gives_back_the_same_spot(draft):
    kept = checked(draft)
    assert read_spot_form(spot_form_of(kept) | {"name": kept.name}) == kept


@pytest.mark.parametrize("months", ["inf", "nan", "5.5", "13", "0", "1e400", "may"])
def test_months_in_leaf_are_whole_months(months):
    form = {"name": "Lane", "place": "52.53, 5.23", "canopies": f"0-90; 10-60; 0.3; 0.7; {months}; limes"}
    with pytest.raises(InputProblems) as problems:
        read_spot_form(form)
    assert list(problems.value.by_field) == ["canopies"]


@pytest.mark.parametrize("typed", ["nan", "inf", "-inf", "1e400", "²"])
@pytest.mark.parametrize("field", ["floor_m", "turbidity", "night_ev100", "wall_reflectance", "pavement_width_m"])
def test_a_number_that_is_none_is_named(field, typed):
    with pytest.raises(InputProblems) as problems:
        read_spot_form({"name": "Lane", "place": "52.53, 5.23", field: typed})
    assert list(problems.value.by_field) == [field]
