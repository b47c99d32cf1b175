"""The bar's values live in the address: what is typed becomes an address that always means the same."""

from __future__ import annotations

from datetime import UTC, datetime
from urllib.parse import parse_qs, urlsplit

import pytest

from webapp.address import instant_values


def where(response):
    parts = urlsplit(response.headers["Location"])
    return parts.path, {name: values[0] for name, values in parse_qs(parts.query).items()}


def test_without_an_address_it_is_now(client):
    page = client.get("/")
    assert page.status_code == 200
    assert 'value="Sat 17 Oct 2026"' in page.text
    assert 'value="16:40"' in page.text


@pytest.mark.parametrize("typed", ["17.10.2026", "Sat 17 Oct 2026", "17 October 2026", "17.10."])
@pytest.mark.parametrize("clock", ["1640", "4.40 pm", "16.40"])
def test_what_is_typed_becomes_exact(client, typed, clock):
    response = client.get("/", query_string={"on": typed, "at": clock, "sort": "name"})
    assert response.status_code == 303
    assert where(response) == ("/", {"on": "2026-10-17", "at": "16:40", "sort": "name"})


def test_an_exact_address_is_answered_at_once(client):
    assert client.get("/?on=2026-10-17&at=16:40").status_code == 200


def test_the_json_twin_stays_json(client):
    assert where(client.get("/spots.json?on=17.10.&at=1640"))[0] == "/spots.json"


@pytest.mark.parametrize(
    ("on", "at", "step", "then"),
    [
        ("2026-10-17", "16:40", 15, {"on": "2026-10-17", "at": "16:55"}),
        ("2026-10-17", "00:05", -15, {"on": "2026-10-16", "at": "23:50"}),
        ("2026-10-25", "01:45", 15, {"on": "2026-10-25", "at": "02:00", "fold": "0"}),
        ("2026-03-29", "01:45", 15, {"on": "2026-03-29", "at": "03:00"}),
    ],
)
def test_steps_go_through_midnight_and_clock_changes(client, on, at, step, then):
    assert where(client.get("/", query_string={"on": on, "at": at, "step": step})) == ("/", then)


def test_a_step_over_the_repeated_hour_takes_its_second_turn(client):
    asked = {"on": "2026-10-25", "at": "02:45", "fold": "0", "step": 15}
    assert where(client.get("/", query_string=asked))[1] == {"on": "2026-10-25", "at": "02:00", "fold": "1"}


@pytest.mark.parametrize("step", ["soon", "9" * 400, "--3", "1e3"])
def test_a_step_that_is_no_number_is_left_out_or_bounded(client, step):
    assert client.get("/", query_string={"on": "2026-10-17", "at": "16:40", "step": step}).status_code in (200, 303)


def test_a_time_that_does_not_exist_is_said_beside_the_field(client):
    response = client.get("/?on=2026-03-29&at=02:30")
    assert response.status_code == 422
    assert "does not exist" in response.text
    assert 'value="02:30"' in response.text
    assert 'aria-invalid="true"' in response.text


def test_a_time_that_comes_twice_asks_which(client):
    response = client.get("/?on=2026-10-25&at=02:30")
    assert response.status_code == 422
    assert "the first, CEST" in response.text
    assert "the second, CET" in response.text
    assert "on=2026-10-25&amp;at=02%3A30&amp;fold=1" in response.text
    assert client.get("/?on=2026-10-25&at=02:30&fold=1").status_code == 200


def test_links_carry_the_moment_along(client):
    page = client.get("/?on=2026-10-17&at=16:40&sky=6").text
    assert "/spots/new?on=2026-10-17&amp;at=16:40&amp;sky=6" in page
    assert "/?on=2026-10-17&amp;at=16%3A40&amp;sky=6&amp;sort=brightness" in page


def test_instants_of_the_repeated_hour_name_their_turn():
    first, second = (datetime(2026, 10, 25, hour, 30, tzinfo=UTC) for hour in (0, 1))
    assert instant_values(first, "Europe/Amsterdam") == {"on": "2026-10-25", "at": "02:30", "fold": "0"}
    assert instant_values(second, "Europe/Amsterdam") == {"on": "2026-10-25", "at": "02:30", "fold": "1"}
