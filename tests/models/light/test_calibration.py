"""What readings teach, and what they may not claim."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.calibration import NEVER_UNDER_STOPS, PRIOR_STOPS, Reading, posterior
from models.problems import InputProblem

readings = st.builds(Reading, st.floats(-5, 5), st.sampled_from(("incident", "photo")))
doubts = st.floats(0, 2)


def test_no_reading_leaves_the_prior() -> None:
    offset, doubt = posterior([])
    assert offset == 0
    assert doubt == pytest.approx(sqrt(PRIOR_STOPS**2 + 0.25**2))


def test_one_incident_reading_by_hand() -> None:
    """Weights 1/0.7^2 = 2.04 and 1/0.33^2 = 9.18: the offset is 9.18 / 11.22 of the reading, variance 1 / 11.22."""
    found = posterior([Reading(1.0)])
    assert found.offset_stops == pytest.approx(0.818, abs=0.001)
    assert found.doubt_stops == pytest.approx(sqrt(1 / 11.22 + 0.0625), abs=0.001)


def test_a_photo_weighs_less() -> None:
    assert posterior([Reading(1.0, "photo")]).offset_stops == pytest.approx(0.5)
    assert posterior([Reading(1.0, "photo")]).doubt_stops > posterior([Reading(1.0)]).doubt_stops


@given(st.lists(readings, max_size=12), readings, doubts, doubts)
def test_more_readings_never_widen(known: list[Reading], one_more: Reading, heights: float, cloud: float) -> None:
    before = posterior(known, heights_stops=heights, cloud_stops=cloud)
    after = posterior([*known, one_more], heights_stops=heights, cloud_stops=cloud)
    assert after.doubt_stops <= before.doubt_stops + 1e-12


@given(st.lists(readings, min_size=10, max_size=60))
def test_many_readings_do_not_claim_a_tenth_of_a_stop(known: list[Reading]) -> None:
    assert posterior(known).doubt_stops > NEVER_UNDER_STOPS == 0.25


@given(st.lists(readings, min_size=1, max_size=12), doubts)
def test_the_offset_lies_between_nothing_and_the_furthest_reading(known: list[Reading], heights: float) -> None:
    offsets = [0.0, *(reading.offset_stops for reading in known)]
    assert min(offsets) - 1e-9 <= posterior(known, heights_stops=heights).offset_stops <= max(offsets) + 1e-9


@given(st.lists(readings, max_size=12), doubts)
def test_guessed_heights_and_cloud_widen(known: list[Reading], more: float) -> None:
    plain = posterior(known)
    assert posterior(known, heights_stops=more).doubt_stops >= plain.doubt_stops
    assert posterior(known, cloud_stops=more).doubt_stops == pytest.approx(sqrt(plain.doubt_stops**2 + more**2))


def test_readings_pin_down_guessed_heights_but_not_the_cloud() -> None:
    many = [Reading(0.5)] * 10
    assert posterior(many, heights_stops=1.0).doubt_stops < posterior(many, cloud_stops=1.0).doubt_stops


@pytest.mark.parametrize("bad", [float("nan"), 25, -25])
def test_a_reading_that_cannot_be(bad: float) -> None:
    with pytest.raises(InputProblem, match="offset_stops"):
        Reading(bad)


def test_bad_doubts_and_kinds() -> None:
    with pytest.raises(InputProblem, match="kind"):
        Reading(0, "guess")  # type: ignore[arg-type]
    for doubt in ({"prior": -1}, {"heights_stops": -1}, {"cloud_stops": -1}):
        with pytest.raises(InputProblem, match="doubt"):
            posterior([], **doubt)
