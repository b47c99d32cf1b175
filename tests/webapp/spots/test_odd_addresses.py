"""Numbers in addresses and forms that no spot, page or version has: a calm answer, never our mistake."""

from __future__ import annotations


def test_a_spot_that_cannot_be_is_not_there(client):
    for number in ("0", "9" * 10, "9" * 20, "9" * 4000):
        for address in ("/spots/{}", "/spots/{}.json", "/spots/{}/times", "/spots/{}/edit"):
            assert client.get(address.format(number)).status_code == 404, (address, number[:20])


def test_a_page_that_is_no_number_is_named(client):
    for page in ("0", "-1", "²", "1.5", "9" * 8, "9" * 5000, "x"):
        response = client.get("/spots.json", query_string={"page": page, "on": "2026-10-17", "at": "12:00"})
        assert (response.status_code, response.json["field"]) == (422, "page"), page[:20]


def test_a_version_that_never_was_changes_nothing(client):
    token = client.token("/spots/1/edit")
    for version, status in (("9" * 12, 409), ("9" * 30, 422), ("²", 422), ("", 422), ("9" * 5000, 422)):
        form = {"csrf_token": token, "version": version, "name": "Other", "place": "52.5301, 5.2312"}
        for address in ("/spots/1", "/spots/1/deletion"):
            assert client.post(address, data=form).status_code == status, (address, version[:20])
    assert "Foundry Lane" in client.get("/spots/1/edit").text
