"""The map's frame: same bytes each time, nothing from outside unless switched on, none of the user's words."""

from __future__ import annotations

import re

import pytest

from webapp.maps.frame import LAYERS, map_script
from webapp.maps.tiles import OFFERED, choices, origins, provider


def test_two_builds_are_the_same_bytes():
    assert map_script() == map_script()
    assert map_script(OFFERED[0]) == map_script(OFFERED[0])


def test_nothing_is_fetched_from_outside():
    assert "http" not in map_script()


def test_the_names_that_our_modules_look_for():
    script = map_script()
    assert "var map_main = L.map(" in script
    for layer, words in LAYERS:
        assert f"var feature_group_{layer} = " in script
        assert f'"{words}" : feature_group_{layer}' in script


def test_rule_areas_are_off_until_a_page_or_a_reader_switches_them_on():
    script = map_script()
    assert "feature_group_spots.addTo(map_main)" in script
    assert "feature_group_areas.addTo(map_main)" not in script


def test_an_empty_or_unknown_provider_is_no_layer():
    assert map_script("Nobody.Knows") == map_script()
    assert provider("") is None
    assert origins("Nobody.Knows") == ()


@pytest.mark.parametrize("name", OFFERED)
def test_a_provider_brings_its_attribution_and_no_key(name):
    script = map_script(name)
    chosen = provider(name)
    assert not chosen.requires_token()
    assert "openstreetmap.org/copyright" in script
    assert "contributors" in script
    assert len(re.findall(r"L\.tileLayer\(", script)) == 1


@pytest.mark.parametrize("name", OFFERED)
def test_the_origins_are_hosts_of_the_layer(name):
    url = provider(name)["url"]
    for origin in origins(name):
        assert re.fullmatch(r"https://[a-z0-9.-]+", origin)
        assert any(url.replace("{s}", letter).startswith(origin + "/") for letter in "abc")
    assert len(origins(name)) == (3 if "{s}" in url else 1)
    assert dict(choices())[name].count(".") >= 2


def test_the_script_is_cached_by_its_tag(client):
    first = client.get("/map/frame.js")
    assert first.mimetype == "text/javascript"
    again = client.get("/map/frame.js", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_leaflet_comes_from_this_machine(client):
    assert client.get("/vendor/leaflet/leaflet.js").data.startswith(b"/* @preserve")
    assert client.get("/vendor/leaflet/leaflet.css").mimetype == "text/css"
    assert client.get("/vendor/leaflet/images/layers.png").mimetype == "image/png"
    assert "max-age" in client.get("/vendor/leaflet/leaflet.js").headers["Cache-Control"]


def test_tiles_widen_the_policy_of_the_map_page_only(client):
    assert client.send("/settings", {"tiles": OFFERED[0]}).status_code == 303
    on_map = client.get("/").headers["Content-Security-Policy"]
    elsewhere = client.get("/settings").headers["Content-Security-Policy"]
    assert f"img-src 'self' data: {origins(OFFERED[0])[0]};" in on_map
    assert "img-src 'self' data:;" in elsewhere
    assert "L.tileLayer" in client.get("/map/frame.js").text
