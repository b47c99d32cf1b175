"""The form of a spot: all problems at once, nothing lost on the way back."""

import pytest

from models.planning.spot_form import read_spot_form, spot_form_of
from models.problems import InputProblems
from models.street.scene import Canopy, SkylinePoint

FORM = {"name": "Foundry Lane", "place": "52.53, 5.23"}


def test_a_name_and_a_place_are_enough():
    draft = read_spot_form(FORM)
    assert (draft.name, draft.zone, draft.wall_reflectance, draft.ground_reflectance) == (
        "Foundry Lane", "Europe/Amsterdam", 0.30, 0.12,
    )  # fmt: skip


def test_every_field_is_read():
    draft = read_spot_form(
        FORM
        | {
            "floor_m": "9 m",
            "roof": "arcade",
            "wall_surface": "brick",
            "ground_surface": "stone",
            "ground_reflectance": "0.25",
            "pavement_width_m": "10 ft",
            "looking_deg": "north-west",
            "lighting_class": "P3",
            "night_ev100": "3.5",
            "canopies": "200-290; 20-60; 0.3; 0.67; 5,6,7; limes\n10-40; 50-90; 0; 0; -; eaves",
            "measured": "225 38\n230° 41.5",
        }
    )
    assert (draft.floor_m, draft.roof, draft.looking_deg, draft.ground_reflectance) == (9.0, "arcade", 315.0, 0.25)
    assert draft.pavement_width_m == pytest.approx(3.048)
    assert draft.canopies == (
        Canopy(200, 290, 20, 60, 0.3, 0.67, (5, 6, 7), "limes"),
        Canopy(10, 40, 50, 90, 0.0, 0.0, (), "eaves"),
    )
    assert draft.measured == (SkylinePoint(225, 38), SkylinePoint(230, 41.5))
    assert read_spot_form(spot_form_of(draft)) == draft


def test_a_chosen_surface_brings_its_published_reflectance():
    assert read_spot_form(FORM | {"wall_surface": "white paint"}).wall_reflectance == 0.70


def test_all_problems_come_at_once_each_beside_its_field():
    bad = {
        "name": " ",
        "place": "95, 5",
        "pavement_width_m": "wide",
        "night_ev100": "dark",
        "measured": "225",
        "canopies": "leaves",
        "looking_deg": "up",
    }
    with pytest.raises(InputProblems) as problems:
        read_spot_form(bad)
    assert set(problems.value.by_field) >= {
        "place", "pavement_width_m", "night_ev100", "measured", "canopies", "looking_deg",
    }  # fmt: skip


def test_a_surface_in_its_own_words_survives_the_form():
    draft = read_spot_form(FORM | {"wall_surface": "red brick, sooty", "wall_reflectance": "0.22"})
    assert (draft.wall_surface, draft.wall_reflectance) == ("red brick, sooty", 0.22)
    assert read_spot_form(spot_form_of(draft)) == draft


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("name", "x" * 121),
        ("turbidity", "90"),
        ("wall_reflectance", "1.2"),
        ("zone", "Mars/Olympus"),
        ("roof", "glass"),
        ("lighting_class", "P9"),
        ("floor_m", "1e9"),
        ("measured", "400 10"),
        ("canopies", "0-90; 80-20; 0.3; 0.6; 5; limes"),
        ("canopies", "0-90; 20-80; 3; 0.6; 5; limes"),
    ],
)
def test_what_is_out_of_reach_names_its_field(field, typed):
    with pytest.raises(InputProblems) as problems:
        read_spot_form(FORM | {field: typed})
    assert list(problems.value.by_field) == [field]
