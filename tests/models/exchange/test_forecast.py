"""Asking a forecast service: what goes out, what is cached, and that nothing it does hurts."""

from __future__ import annotations

import gzip
import json
from datetime import UTC, datetime, timedelta
from time import perf_counter

import pytest

from models.exchange.forecast import LARGEST_BYTES, LONGEST_LIFE, USUAL_LIFE, Refused, ask_forecast
from tests.models.exchange.forecast_service import NOW, answer, dead_address, serving

CONTACT = "me@example.org"


@pytest.fixture(scope="module")
def running():
    with serving() as service:
        yield service


@pytest.fixture
def service(running):
    address = running.address
    running.__init__()
    running.address = address
    return running


def ask(service, last_modified="", timeout_s=5.0, address=""):
    where = address or service.address
    told = (52.530123456, -5.2312, CONTACT, "a forecast", last_modified)
    return ask_forecast(where, *told, now=NOW, timeout_s=timeout_s)


def refused(service, **changes):
    with pytest.raises(Refused) as problem:
        ask(service, **changes)
    assert problem.value.field == "forecast"
    assert problem.value.message.endswith("What is kept stays as it is.")
    return problem.value


def test_it_says_who_asks_and_no_more_than_four_decimals(service):
    found = ask(service)
    ((path, heads),) = service.asked
    assert path == "/2.0/compact?lat=52.5301&lon=-5.2312"
    assert heads["User-Agent"] == "kerbstand (me@example.org)"
    assert heads["Accept-Encoding"] == "gzip"
    assert "If-Modified-Since" not in heads
    assert "Cookie" not in heads
    assert len(found.forecast.hours) == 5
    assert found.forecast.issued_at == NOW - timedelta(hours=3)


@pytest.mark.parametrize("packed", [True, False])
def test_packed_or_not_it_is_the_same(service, packed):
    service.packed = packed
    assert ask(service).forecast.hours[0].oktas == 5.0


def test_what_did_not_change_is_not_sent_again(service):
    first = ask(service)
    again = ask(service, first.last_modified)
    assert service.asked[1][1]["If-Modified-Since"] == first.last_modified
    assert (again.forecast, again.last_modified) == (None, first.last_modified)
    assert first.expires == again.expires == NOW + timedelta(minutes=31)


@pytest.mark.parametrize(
    ("expires", "until"),
    [
        (None, NOW + USUAL_LIFE), ("0", NOW + USUAL_LIFE), ("soon", NOW + USUAL_LIFE),
        ("Thu, 01 Jan 1970 00:00:00 GMT", NOW), ("Fri, 31 Dec 9999 23:59:59 GMT", NOW + LONGEST_LIFE),
        ("Fri, 31 Dec 9999 23:59:59 -1200", NOW + USUAL_LIFE),
    ],
)  # fmt: skip
def test_how_long_it_holds_is_kept_within_reason(service, expires, until):
    service.heads = {"Expires": expires} if expires else {}
    assert ask(service).expires == until


@pytest.mark.parametrize("text", ["yesterday", "x" * 5000, "Sat, 17 Oct 2026 11:40:00 GMT \u00e9"])
def test_a_last_modified_that_is_no_date_is_not_sent_back(service, text):
    service.heads = {"Last-Modified": text}
    assert ask(service).last_modified == ""


@pytest.mark.parametrize(
    ("status", "says", "minutes"),
    [(403, "contact in the settings", 1), (404, "address in the settings", 1), (422, "no forecast for this place", 1),
     (429, "too often", 10), (500, "is in trouble", 1), (503, "is in trouble", 1), (301, "points elsewhere", 1),
     (204, "something else", 1), (418, "something else", 1)],
)  # fmt: skip
def test_a_refusal_says_what_to_do(service, status, says, minutes):
    service.tells(b"" if status == 204 else b"no", status)
    service.heads = {"Location": "file:///etc/hostname"} if status == 301 else {}
    problem = refused(service)
    assert says in problem.message
    assert f"({status})" in problem.message
    assert problem.again_after == timedelta(minutes=minutes)
    assert len(service.asked) == 1


def test_a_version_that_is_ending_still_answers(service):
    service.status = 203
    assert ask(service).forecast is not None


@pytest.mark.parametrize("way", ["silent", "drip", "drip heads"])
def test_a_slow_service_is_cut_off(service, way):
    service.way = way
    began = perf_counter()
    problem = refused(service, timeout_s=0.1)
    assert perf_counter() - began < 1.2
    assert "did not answer" in problem.message


@pytest.mark.parametrize("way", ["garbage", "short", "gone"])
def test_a_broken_answer_is_none(service, way):
    service.way = way
    assert refused(service).message


def test_a_dead_service_is_said_to_be(service):
    assert "did not answer" in refused(service, address=dead_address()).message


@pytest.mark.parametrize("packed", [True, False])
def test_a_huge_answer_is_not_taken_in(service, packed):
    service.packed = packed
    service.tells(b" " * (LARGEST_BYTES + 10))
    assert "far more than a forecast" in refused(service).message


def test_a_packed_bomb_is_not_unpacked(service):
    service.packed = False
    service.tells(gzip.compress(gzip.compress(b"0" * 5_000_000)))
    service.heads = {"Content-Encoding": "gzip"}
    assert "no forecast" in refused(service).message
    service.tells(gzip.compress(b"0" * 5_000_000))
    assert "far more than a forecast" in refused(service).message


def test_what_is_not_packed_though_it_says_so_is_refused(service):
    service.packed = False
    service.heads = {"Content-Encoding": "gzip"}
    assert "cannot be unpacked" in refused(service).message


def test_a_forecast_of_another_year_is_none(service):
    made = datetime(2025, 10, 17, tzinfo=UTC)
    steps = json.loads(json.dumps(answer()))
    steps["properties"]["meta"]["updated_at"] = f"{made:%Y-%m-%dT%H:%M:%SZ}"
    service.tells(steps)
    assert "no forecast" in refused(service).message
