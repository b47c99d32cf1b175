"""The settings page: kept all at once, or not at all, with the message beside the field."""

from __future__ import annotations

from models.planning.settings import read_setting


def test_what_is_typed_is_kept_and_shown(client, store):
    form = {"golden_limits": "-5 to 7", "lighting_up_deg": "−2", "geocoder_contact": "me@example.org"}
    response = client.send("/settings", form)
    assert (response.status_code, response.headers["Location"]) == (303, "/settings")
    assert read_setting(store, "golden_limits") == [-5, 7]
    assert read_setting(store, "lighting_up_deg") == -2
    page = client.get("/settings").text
    assert 'value="−5 to 7"' in page
    assert "The settings are kept." in page
    assert "may ask the network: address search" in page


def test_a_bad_field_keeps_none_of_them(client, store):
    response = client.send("/settings", {"golden_limits": "6 to -4", "turbidity": "4"})
    assert response.status_code == 422
    assert "the lower height of the sun first" in response.text
    assert 'value="6 to -4"' in response.text
    assert read_setting(store, "turbidity") == 3


def test_tiles_are_off_at_first_and_say_what_leaves_the_machine(client):
    page = client.get("/settings").text
    assert "Nothing leaves this machine" in page
    assert "your network address" in page
    assert 'name="tiles" value="" checked' in page


def test_a_tile_provider_nobody_offered_is_refused(client, store):
    response = client.send("/settings", {"tiles": "https://evil.example/{z}/{x}/{y}.png"})
    assert response.status_code == 422
    assert read_setting(store, "tiles") is None


def test_whose_holidays_count_and_who_writes_letters(client, store):
    form = {"holidays": "nl", "organiser": "Ana <b>Ruiz</b>", "language": "en"}
    assert client.send("/settings", form).status_code == 303
    assert [read_setting(store, name) for name in form] == ["NL", "Ana <b>Ruiz</b>", "en"]
    page = client.get("/settings").text
    assert 'value="NL"' in page
    assert "Ana &lt;b&gt;Ruiz&lt;/b&gt;" in page
    assert '<option value="en" selected>English</option>' in page


def test_a_place_whose_holidays_nobody_knows_is_refused(client, store):
    response = client.send("/settings", {"holidays": "Havenmark", "language": "en"})
    assert response.status_code == 422
    assert "“Havenmark” is not a place whose holidays are known" in response.text
    assert read_setting(store, "holidays") == ""
