"""The dial: what is kept, the order the dials turn in, and what binds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import START, Limits, Settings, at_sync, dial
from models.light.series import APERTURES, ISOS, SHUTTERS, shutter_words, stops_words
from models.problems import InputProblem

LIMITS = Limits(1 / 250, 1 / 60, 1.8, 22, 100, 6400)
LADDERS = ({s.nominal for s in SHUTTERS}, {s.nominal for s in APERTURES}, {s.nominal for s in ISOS})


def test_words() -> None:
    assert START.words == "1/125 s, f/5.6, ISO 200"
    assert Settings(0.5, 11, 6400).words == "0.5 s, f/11, ISO 6400"
    assert [shutter_words(t) for t in (1 / 180, 2, 1 / 4, 7)] == ["1/180 s", "2 s", "1/4 s", "7 s"]
    assert [stops_words(s) for s in (0, 2 / 3, 4 / 3, 2, -1 / 3, 0.5)] == ["0", "2/3", "1 1/3", "2", "−1/3", "0.5"]


@pytest.mark.parametrize("bad", [{"shutter_s": 0}, {"aperture": -5.6}, {"iso": float("nan")}])
def test_impossible_settings_are_refused(bad: dict[str, float]) -> None:
    with pytest.raises(InputProblem) as problem:
        replace(START, **bad)
    assert problem.value.field in bad


@pytest.mark.parametrize("off", [-0.33, 0, 0.33])
def test_the_start_is_kept_within_a_third(off: float) -> None:
    found = dial(START.ev100 + off, LIMITS)
    assert found.kept_start
    assert found.settings == START
    assert found.off_stops == pytest.approx(-off)


def test_beyond_a_third_the_shutter_goes_first() -> None:
    assert dial(START.ev100 + 2 / 3, LIMITS).settings == Settings(1 / 200, 5.6, 200)
    assert dial(START.ev100 - 2 / 3, LIMITS).settings == Settings(1 / 80, 5.6, 200)


def test_then_the_aperture_then_the_iso() -> None:
    brighter = dial(START.ev100 + 3, LIMITS)
    assert brighter.settings == Settings(1 / 250, 11, 200)
    assert brighter.at_limits == ("sync speed",)
    brightest = dial(START.ev100 + 6, LIMITS)
    assert brightest.settings == Settings(1 / 250, 22, 100)
    darker = dial(START.ev100 - 4, LIMITS)
    assert darker.settings == Settings(1 / 60, 2, 200)
    darkest = dial(START.ev100 - 7, LIMITS)
    assert (darkest.settings.shutter_s, darkest.settings.aperture) == (1 / 60, 1.8)
    assert darkest.settings.iso > 200


@pytest.mark.parametrize("start", [START, Settings(1 / 30, 1.2, 1600), Settings(1 / 20, 11, 320)])
def test_printed_numbers_never_add_up_past_a_third(start: Settings) -> None:
    """Nominal settings lie up to 0.14 EV off their powers of two; counting thirds alone would leave 0.44 here."""
    wide = replace(LIMITS, fastest_s=1 / 200, slowest_s=1 / 15, widest_aperture=1.2)
    for tenths in range(20, 145):
        assert dial(tenths / 10, wide, start).fit == "fits"


def test_nothing_fits() -> None:
    bright = dial(18, LIMITS)
    assert bright.fit == "too bright"
    assert bright.at_limits == ("sync speed", "smallest aperture", "base ISO")
    assert bright.off_stops < -1
    dark = dial(-5, LIMITS)
    assert dark.fit == "too dark"
    assert dark.at_limits == ("hand-held limit", "widest aperture", "highest ISO")
    assert dark.off_stops > 1


def test_a_start_faster_than_sync_is_not_kept() -> None:
    start = Settings(1 / 500, 5.6, 200)
    found = dial(start.ev100, LIMITS, start)
    assert not found.kept_start
    assert found.settings == Settings(1 / 250, 8, 200)


def test_sync_wins_over_a_faster_hand_held_limit() -> None:
    found = dial(10, replace(LIMITS, fastest_s=1 / 60, slowest_s=1 / 250))
    assert found.settings.shutter_s == pytest.approx(1 / 60)


def test_a_lens_without_a_diaphragm_and_an_odd_sync_speed() -> None:
    found = dial(13, Limits(1 / 180, 1 / 180, 8, 8, 100, 6400))
    assert found.settings.aperture == 8
    assert found.settings.shutter_s == pytest.approx(1 / 160)


def test_at_sync_keeps_the_surroundings() -> None:
    found = at_sync(START, LIMITS)
    assert found is not None
    assert found.settings == Settings(1 / 250, 4, 200)
    assert at_sync(found.settings, LIMITS) is None
    assert at_sync(Settings(1 / 60, 1.8, 6400), LIMITS) is None


starts = st.builds(
    Settings,
    st.sampled_from(sorted(LADDERS[0])),
    st.sampled_from(sorted(LADDERS[1])),
    st.sampled_from(sorted(LADDERS[2])),
)
limits = st.builds(
    Limits,
    st.sampled_from((1 / 125, 1 / 160, 1 / 200, 1 / 250)),
    st.sampled_from((1 / 15, 1 / 60, 1 / 125)),
    st.sampled_from((1.2, 1.8, 2.8, 4.0)),
    st.sampled_from((11.0, 16.0, 22.0, 32.0)),
    st.sampled_from((64, 100, 200)),
    st.sampled_from((1600, 6400, 25600)),
)


@given(st.floats(-10, 20), limits, starts)
def test_settings_stand_on_the_ladders_within_the_limits(wanted: float, limits: Limits, start: Settings) -> None:
    found = dial(wanted, limits, start)
    settings = found.settings
    assert found.off_stops == pytest.approx(settings.ev100 - wanted)
    assert limits.fastest_s * 0.99 <= settings.shutter_s <= max(limits.slowest_s, limits.fastest_s) * 1.01
    assert limits.widest_aperture <= settings.aperture <= limits.smallest_aperture
    assert limits.base_iso <= settings.iso <= limits.highest_iso
    assert {settings.shutter_s} <= LADDERS[0]
    assert {settings.aperture} <= LADDERS[1]
    assert {settings.iso} <= LADDERS[2]


@given(st.floats(-10, 20), limits, starts)
def test_the_dial_comes_within_a_third_unless_every_dial_is_at_its_end(
    wanted: float, limits: Limits, start: Settings
) -> None:
    found = dial(wanted, limits, start)
    if found.fit == "fits":
        assert abs(found.off_stops) <= 1 / 3 + 1e-9
    else:
        assert len(found.at_limits) >= 3


@given(st.floats(-2, 16), limits, starts)
def test_more_light_never_asks_for_more_exposure(wanted: float, limits: Limits, start: Settings) -> None:
    assert dial(wanted + 1, limits, start).settings.ev100 >= dial(wanted, limits, start).settings.ev100
