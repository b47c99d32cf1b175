"""Without a kit nothing can be said of the flash, but the spot is there and can be changed."""

from __future__ import annotations


def test_without_a_kit_the_page_stays_calm(client):
    page = client.get("/spots/1")
    assert page.status_code == 422
    assert "There is no kit yet: add a flash and a camera first." in page.text
    assert "/spots/1/edit" in page.text
    assert client.get("/spots/1.json").json["field"] == "flash"


def test_without_a_kit_there_are_no_times(client):
    page = client.get("/spots/1/times")
    assert page.status_code == 422
    assert "there is no kit yet" in page.text
