"""What is typed about a setup and back: nothing lost, feet and metres agree, every problem beside its field."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.kit import read_kit
from models.light.exposure import Settings
from models.light.wanted import Wanted
from models.planning.kit import STARTER
from models.planning.setups.form import (
    axis_text,
    new_setup_form,
    read_axis,
    read_fraction,
    read_setup_form,
    setup_form_of,
    understood,
)
from models.planning.setups.kit import WholeKit, kit_notes, named_kit, setup_of
from models.problems import InputProblem, InputProblems
from models.store.setups import LightDraft, SetupDraft

WHOLE = WholeKit(read_kit(STARTER), frozenset())
KEY = LightDraft(role="key", flash="large", modifier="small-box", grid="grid-40", axis_deg=-45, battery="rechargeable")
DRAFT = SetupDraft(title="Key", camera="main-camera", trigger="plain-radio", lights=(KEY,))

lights = st.builds(
    LightDraft,
    role=st.sampled_from(["key", "fill", "edge", "hair", "background"]),
    flash=st.sampled_from([flash.id for flash in WHOLE.kit.flashes]),
    units=st.integers(1, 4),
    gel=st.sampled_from(["", *(gel.id for gel in WHOLE.kit.gels)]),
    zoom_mm=st.none() | st.integers(20, 200).map(float),
    distance_m=st.integers(80, 600).map(lambda cm: cm / 100),
    height_m=st.integers(100, 220).map(lambda cm: cm / 100),
    axis_deg=st.integers(-180, 179).map(float),
    power=st.just(0.0) | st.integers(0, 24).map(lambda thirds: 2 ** (-thirds / 3)),
    held=st.booleans(),
)
drafts = st.builds(
    replace,
    st.just(DRAFT),
    lights=st.lists(lights, min_size=1, max_size=4).map(tuple),
    settings=st.builds(
        Settings,
        st.sampled_from([1 / 60, 1 / 125, 1 / 200]),
        st.sampled_from([2.8, 5.6, 11.0]),
        st.sampled_from([100.0, 400.0]),
    ),
    wanted=st.builds(Wanted, ratio_stops=st.sampled_from([0.0, 1.0, 5 / 3]), aperture=st.none() | st.just(4.0)),
)


@given(drafts)
def test_a_setup_shown_in_the_form_reads_back_the_same(draft: SetupDraft) -> None:
    back = read_setup_form(setup_form_of(draft), WHOLE)
    for one, other in zip(draft.lights, back.lights, strict=True):
        assert other.power == pytest.approx(one.power, rel=1e-6)
        assert replace(other, power=one.power) == one
    assert replace(back, lights=draft.lights, settings=draft.settings, wanted=draft.wanted) == draft
    assert back.settings.shutter_s == pytest.approx(draft.settings.shutter_s)
    assert (back.settings.aperture, back.settings.iso) == (draft.settings.aperture, draft.settings.iso)
    assert back.wanted.ratio_stops == pytest.approx(draft.wanted.ratio_stops, abs=1e-3)


@pytest.mark.parametrize(
    ("typed", "axis_deg"),
    [
        ("12", 0),
        ("12 o'clock", 0),
        ("3", -90),  # the model's right hand, camera left
        ("9 o’clock", 90),
        ("6", -180),
        ("10:30", 45),
        ("half past 1", -45),
        ("45° left", -45),
        ("30 right", 30),
        ("−45°", -45),
        ("0°", 0),
    ],
)
def test_places_on_the_clock(typed: str, axis_deg: float) -> None:
    assert read_axis(typed) == pytest.approx(axis_deg)
    assert read_axis(axis_text(axis_deg)) == pytest.approx(axis_deg)


@pytest.mark.parametrize("typed", ["", "13", "0", "noon", "190°", "10:75", "45", "left", "9" * 30])
def test_what_is_no_place_is_refused(typed: str) -> None:
    with pytest.raises(InputProblem):
        read_axis(typed)


@pytest.mark.parametrize(
    ("typed", "power"), [("1/4", 0.25), ("full", 1), ("off", 0), ("0.5", 0.5), ("1/4 + 1/3 stop", 0.25 * 2 ** (1 / 3))]
)
def test_powers(typed: str, power: float) -> None:
    assert read_fraction(typed) == pytest.approx(power)


@pytest.mark.parametrize(
    "typed", ["1/0", "-1", "half", "nan", "inf", "1/4 + x", "1/4 + 1e9", "1e99999999", "1/4 + 1/0"]
)
def test_what_is_no_power_is_refused(typed: str) -> None:
    with pytest.raises(InputProblem):
        read_fraction(typed)


def test_feet_and_metres_agree() -> None:
    """The international foot, 0.3048 m exactly."""
    feet, metres = (
        read_setup_form(setup_form_of(DRAFT) | {"light_1_distance_m": t}, WHOLE) for t in ("7 ft", "2.1336")
    )
    assert feet.lights[0].distance_m == pytest.approx(metres.lights[0].distance_m)


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("title", " "),
        ("shutter_s", "0"),
        ("aperture", "wide"),
        ("iso", "-5"),
        ("ratio", "odd"),
        ("ratio_stops", "99"),
        ("stay_at", "f/900"),
        ("camera_m", "near"),
        ("lens_mm", "x"),
        ("camera", "lost"),
        ("trigger", "lost"),
        ("light_1_role", "moon"),
        ("light_1_flash", ""),
        ("light_1_flash", "lost"),
        ("light_1_grid", "lost"),
        ("light_1_units", "0"),
        ("light_1_distance_m", "200 ft"),
        ("light_1_height_m", "9"),  # further from the face than the distance says
        ("light_1_axis_deg", "25"),
        ("light_1_power", "2"),
        ("light_1_zoom_mm", "wide"),
    ],
)
def test_every_problem_stands_beside_its_field(field: str, typed: str) -> None:
    with pytest.raises(InputProblems) as problems:
        read_setup_form(setup_form_of(DRAFT) | {field: typed}, WHOLE)
    assert field in problems.value.by_field


def test_a_light_left_out_in_between_leaves_the_others_problems_at_their_own() -> None:
    form = setup_form_of(replace(DRAFT, lights=(KEY, KEY, KEY))) | {"light_2_role": "", "light_3_flash": "lost"}
    with pytest.raises(InputProblems) as problems:
        read_setup_form(form, WHOLE)
    assert set(problems.value.by_field) == {"light_3_flash"}


def test_the_new_form_is_a_setup_once_it_has_a_title() -> None:
    draft = read_setup_form(new_setup_form(WHOLE) | {"title": "First"}, WHOLE)
    assert [light.role for light in draft.lights] == ["key"]


def test_how_it_is_taken_is_said() -> None:
    said = understood(setup_form_of(DRAFT) | {"light_1_distance_m": "6 ft", "camera_m": "x"})
    assert said["light_1_distance_m"] == "1.83 m"
    assert said["light_1_axis_deg"] == "45° to camera left"
    assert "camera_m" not in said


def test_missing_and_retired_kit_is_named() -> None:
    whole = WholeKit(WHOLE.kit, frozenset({("modifiers", "small-box"), ("flashes", "small")}))
    gone, retired = kit_notes(replace(DRAFT, trigger="lost"), whole)
    assert gone == ("The trigger “lost” is not in the kit any more. Choose another one.",)
    assert len(retired) == 1
    assert "retired" in retired[0]
    assert "small-box" not in {modifier.id for modifier in whole.owned.modifiers}
    assert len(named_kit(DRAFT)) == 6
    assert setup_of(DRAFT, whole).lights[0].modifier is not None
