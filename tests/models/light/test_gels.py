"""White balance words, by the light on the skin; gels by the surroundings."""

from __future__ import annotations

from models.light.gels import GELS, white_balance_words


def test_by_day_daylight_and_no_gel() -> None:
    words = white_balance_words(40, True, None)
    assert words == (
        "White balance daylight, about 5500 K, the same for everyone. No gel: leave the surroundings as they are."
    )
    assert white_balance_words(None, True, None) == words
    assert white_balance_words(5, False, None) == words


def test_low_sun_is_matched_with_a_light_orange_gel_and_its_cost() -> None:
    words = white_balance_words(5, True, None)
    assert "daylight, about 5500 K" in words
    assert "1/4 to 1/2 orange gel on the flash matches the low sun (it takes 0.3 to 0.5 stop of the reserve)" in words


def test_a_colder_dusk_with_the_white_balance_set_to_the_gel() -> None:
    """1e6 / (1e6/5500 + 159) = 2934 K."""
    words = white_balance_words(-3, False, None)
    assert "full orange gel on the flash and the white balance set to it, about 2900 K" in words


def test_a_gel_already_on() -> None:
    quarter, _, full = GELS
    assert "daylight, about 5500 K" in white_balance_words(5, True, quarter)
    gelled = white_balance_words(-3, False, full)
    assert "about 2900 K, the same for everyone" in gelled
    assert "is in the reserve" in gelled
