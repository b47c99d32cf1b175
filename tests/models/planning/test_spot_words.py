"""What a spot's form starts with, and what it says it understood."""

from __future__ import annotations

from models.planning.spot_words import understood


def test_only_what_can_be_read_is_said():
    form = {"place": "33.8688S 151.2093E", "pavement_width_m": "11 ft", "looking_deg": "nw", "zone": "x"}
    said = understood(form | {"place": "-33.8688, 151.2093"})
    assert said == {
        "place": "33.86880° S, 151.20930° E, time zone Australia/Sydney",
        "pavement_width_m": "3.35 m",
        "looking_deg": "the camera looks north-west",
    }
    assert understood({"place": "nowhere", "pavement_width_m": "wide", "looking_deg": ""}) == {}
