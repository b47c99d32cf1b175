"""The dial card, channels, and one camera setting for all stations."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.card import CHECKS, Station, channels_for, dial_card, one_setting, rigging
from models.light.exposure import START, EvFigure
from models.light.gels import GELS, white_balance_words
from models.light.kit import Camera, Modifier, Trigger
from models.light.solve import solve, solve_at
from models.light.wanted import Wanted
from models.problems import InputProblem
from tests.models.light.round_a_model import BOX, EDGE, FILL, FOUR, GRID, HAIR, RADIO, UMBRELLA, light, setup


def test_the_card_of_a_solved_setup() -> None:
    solved = solve(setup(*FOUR), Wanted(), EvFigure(9), EvFigure(10))
    card = dial_card(solved.setup, channel=3)
    assert (card.mode, card.drive, card.channel) == ("manual", "single frame", 3)
    assert card.settings == solved.setup.settings
    assert card.checks == CHECKS
    assert [one.rung.words for one in card.lights] == [one.rung.words for one in solved.lights]
    assert [one.rung.fraction for one in card.lights] == [one.light.power for one in solved.lights]
    key, _, edge, hair = card.lights
    assert (key.role, key.clock_half_hours, key.paces, key.distance_m) == ("key", 20, 2.5, 2.0)
    assert (key.modifier, key.zoom_mm, edge.grid, edge.zoom_mm) == ("the box", 24, "the grid", 50)
    assert (hair.zoom_mm, hair.clock_half_hours, hair.held) == (24, 13, True)


def test_a_light_that_is_off_and_a_modifier_nobody_noted() -> None:
    unnoted = light(power=0.0, modifier=replace(BOX, measured_zoom_mm=None))
    (one,) = dial_card(setup(unnoted)).lights
    assert (one.rung.words, one.zoom_mm) == ("off", None)


def test_the_white_balance_follows_the_key() -> None:
    gelled = setup(FILL, light(gel=GELS[2]))
    card = dial_card(gelled, sun_elevation_deg=-3.0)
    assert card.white_balance == white_balance_words(-3.0, False, GELS[2])
    assert [one.gel for one in card.lights] == ["", "full orange"]
    assert dial_card(setup(), sun_elevation_deg=40.0).white_balance == white_balance_words(40.0, False, None)


def test_every_station_has_a_channel_of_its_own() -> None:
    assert channels_for([RADIO, RADIO, None, RADIO]) == (1, 2, None, 3)
    few = Trigger("few", "few", channels=1)
    assert channels_for([RADIO, few, RADIO]) == (2, 1, 3)
    with pytest.raises(InputProblem, match="few has 1 channels; station 3 needs one of its own"):
        channels_for([few, RADIO, few])
    assert channels_for([]) == ()


@given(st.lists(st.none() | st.integers(1, 9).map(lambda n: Trigger("t", "t", channels=n)), max_size=8))
def test_channels_differ_and_exist_or_are_refused_for_want_of_them(triggers: list[Trigger | None]) -> None:
    counts = sorted(one.channels or 0 for one in triggers if one is not None)
    if any(count < place for place, count in enumerate(counts, start=1)):
        with pytest.raises(InputProblem, match="trigger"):
            channels_for(triggers)
        return
    found = channels_for(triggers)
    given_ = [channel for channel in found if channel is not None]
    assert len(set(given_)) == len(given_) == len(counts)
    assert all((channel is None) == (one is None) for channel, one in zip(found, triggers, strict=True))
    assert all(one is None or channel <= one.channels for channel, one in zip(found, triggers, strict=True))  # type: ignore[operator]


def test_one_setting_for_all_stations_and_powers_solved_to_it() -> None:
    """Surroundings of 10 and 11 ask for 10.67 and 11.67: 11.17 serves both, half a stop off each; the start's 10.94
    would leave the second 0.73 off."""
    stations = [Station(setup(), EvFigure(9), EvFigure(10)), Station(setup(FILL), EvFigure(9.5), EvFigure(11))]
    one = one_setting(stations)
    assert one.fits
    assert one.over_stops == pytest.approx((-0.5, 0.5), abs=1 / 6)
    solved = [solve_at(each.setup, Wanted(), one.dialled, each.subject, each.behind) for each in stations]
    assert {each.setup.settings for each in solved} == {one.dialled.settings}
    assert all(each.works for each in solved)
    closer = [stations[0], Station(setup(FILL), EvFigure(9.5), EvFigure(10.4))]
    assert one_setting(closer).dialled.settings == START


def test_stations_too_far_apart_for_one_setting() -> None:
    stations = [Station(setup(), EvFigure(9), EvFigure(10)), Station(setup(), EvFigure(13), EvFigure(14))]
    found = one_setting(stations)
    assert not found.fits
    assert max(found.over_stops) > 1.5
    with pytest.raises(InputProblem, match="stations"):
        one_setting([])


def test_one_setting_keeps_within_every_camera() -> None:
    slow = Camera("old", "old", sync_s=1 / 125, widest_aperture=4, smallest_aperture=11, base_iso=200, highest_iso=800)
    stations = [Station(setup(), EvFigure(13)), Station(setup(camera=slow), EvFigure(13))]
    settings = one_setting(stations).dialled.settings
    assert settings.shutter_s >= 1 / 125
    assert 4 <= settings.aperture <= 11
    assert settings.iso == 200
    assert one_setting(stations, aperture=5.6).dialled.settings.aperture == 5.6


def test_rigging() -> None:
    assert rigging(light()) == "brace the tilt"
    assert rigging(light(modifier=replace(BOX, weight_kg=0.2))) == "lock the tilt"
    assert rigging(light(modifier=replace(BOX, weight_kg=0.3), grid=replace(GRID, weight_kg=0.2))) == "brace the tilt"
    assert rigging(light(modifier=Modifier("b", "box of unknown weight", "box", 2.0))) == "brace the tilt"
    assert rigging(light(modifier=UMBRELLA)) == "hold the umbrella"
    assert rigging(EDGE) == rigging(HAIR) == "lock the tilt"
