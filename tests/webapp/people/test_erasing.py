"""Erasing from the pages and the terminal, and once a day by the clock."""

from __future__ import annotations

import logging
import threading
from datetime import UTC, datetime, timedelta

import pytest

from models.planning.settings import change_settings
from models.planning.workshops.erasing import erase_due
from models.store.engine import open_store, upgrade
from tests.webapp.people.conftest import STARTS
from webapp import create_app, daily
from webapp.commands import terminal
from webapp.commands.erasing import erase
from webapp.daily import Daily, erasing_daily

LAST = datetime(2026, 11, 30, 12, 0, tzinfo=UTC)
"""The last day of the usual thirty after the workshop."""


def test_it_is_asked_first_then_done_with_no_way_back(client, there, put, listed):
    person = put("Ana", contact="555 0100")
    put("Bo")
    page = client.get(f"{there}/erasure?person={person.id}").text
    assert "All that is noted of 1 person goes for good, at once. There is no way back." in page
    assert "Copies that you made of the database before" in page
    assert "go its notes of the day, who talks" in page
    assert client.send(f"{there}/erasure", {"person": str(person.id)}).headers["Location"] == there
    page = client.get(there).text
    assert "1 person erased for good." in page
    assert "Ana" not in page
    assert "Erased on Saturday 17 October 2026." in page
    assert set(listed()) == {"erased", "Bo"}
    assert client.get(f"{there}/erasure?person={person.id}").status_code == 404
    refused = client.send(f"{there}/{person.id}", {"name": "Ana", "part": "attendee", "version": "2"})
    assert (refused.status_code, "was erased and cannot be changed" in refused.text) == (422, True)
    assert "Take the line off" in client.get(there).text
    line = client.get(f"{there}/{person.id}/edit").text
    assert "What was noted here was erased." in line
    assert 'name="contact"' not in line
    client.send(f"{there}/{person.id}/deletion", {"version": "2"})
    assert set(listed()) == {"Bo"}


def test_those_put_aside_and_everybody_go_too(client, there, put, listed, workshop):
    aside = put("Ana", contact="555 0100")
    put("Bo", contact="555 0200")
    client.send(f"{there}/{aside.id}/deletion", {"version": "1"})
    assert "Ana" in client.get(f"{there}/erasure?who=aside").text
    client.send(f"{there}/erasure", {"who": "aside"})
    client.send(f"{there}/{aside.id}/restoration", {})
    assert set(listed()) == {"Bo", "erased"}
    client.send(f"/workshops/{workshop}/deletion", {"version": "1"})
    assert "Bo" in client.get(f"{there}/erasure").text
    assert client.send(f"{there}/erasure", {}).headers["Location"] == "/workshops"
    client.send(f"/workshops/{workshop}/restoration", {})
    assert set(listed()) == {"erased"}
    assert "Nobody has anything personal on record here." in client.get(f"{there}/erasure").text


def run(store, now, *options):
    config = {"SECRET_KEY": "only for tests", "CLOCK": lambda: now, "TESTING": True}
    runner = create_app(store, config_changes=config).test_cli_runner()
    return runner.invoke(erase, list(options))


def test_the_command_reaches_the_demo_town_alone_where_it_is_asked_to(store, put, monkeypatch, tmp_path):
    put("Zebedee")
    own, later = LAST + timedelta(days=1), datetime(2040, 1, 1, tzinfo=UTC)
    monkeypatch.setattr(terminal, "demo_path", lambda: tmp_path / "none.sqlite3")
    refused = run(store, own, "--demo")
    assert (refused.exit_code, "There is no demo town on this machine yet" in refused.output) == (1, True)
    opened(tmp_path / "town.sqlite3").close()
    monkeypatch.setattr(terminal, "demo_path", lambda: tmp_path / "town.sqlite3")
    monkeypatch.setattr(terminal, "open_demo", opened)
    assert run(store, later, "--demo", "--check").output.startswith("Nobody would be erased.")
    assert run(store, own, "--check").output.startswith("1 person would be erased.")


def opened(path):
    found = open_store(f"sqlite:///{path}")
    upgrade(found)
    return found


def test_the_command_says_what_would_go_and_erases_it_without_a_name(store, put, listed):
    put("Zebedee", contact="555 0100")
    put("M.L.", part="model")
    assert run(store, LAST, "--check").output.startswith("Nobody would be erased.")
    later = LAST + timedelta(days=1)
    said = run(store, later, "--check").output
    assert said.startswith("2 people would be erased.")
    assert "1 attendee and 1 model of Evening light, kept until Monday 30 November 2026" in said
    assert set(listed()) == {"Zebedee", "M.L."}
    done = run(store, later).output
    assert done.startswith("2 people erased for good.")
    assert "Copies that you made of the database" in done
    assert "go its notes of the day, who talks" in said
    assert "Zebedee" not in said + done
    assert set(listed()) == {"erased"}


def test_the_number_of_days_is_a_setting_and_a_persons_own_day_comes_first(store, put, listed):
    put("Early", erase_after="2026-11-05")
    put("Usual")
    put("Late", erase_after="2027-03-01")
    change_settings(store, {"erase_after_days": "10"})
    erase_due(store, STARTS + timedelta(days=7))
    assert set(listed()) == {"erased", "Usual", "Late"}
    erase_due(store, STARTS + timedelta(days=11))
    assert set(listed()) == {"erased", "Late"}


def test_at_most_once_a_day_by_the_clock_and_again_after_a_failure(caplog):
    done = []

    def task(now):
        done.append(now)
        if len(done) == 1:
            raise RuntimeError("Zebedee, 555 0100")

    each = Daily(task)
    with caplog.at_level(logging.WARNING):
        assert not each.look(LAST)
    assert "RuntimeError" in caplog.text
    assert "Zebedee" not in caplog.text
    assert [each.look(LAST + timedelta(hours=hours)) for hours in (0, 1, 11, 12, 13, 35, 36)] == [
        True, False, False, True, False, False, True,
    ]  # fmt: skip


@pytest.fixture
def brisk(monkeypatch):
    monkeypatch.setattr(daily, "LOOK_S", 0.01)


@pytest.mark.usefixtures("brisk")
def test_the_server_does_it_by_its_clock_in_a_thread_of_its_own(app, put, listed, monkeypatch):
    put("Ana")
    seen, moved = {LAST: threading.Event(), LAST + timedelta(days=1): threading.Event()}, []
    app.config["CLOCK"] = lambda: moved[0] if moved else LAST

    def noting(store, now):
        erase_due(store, now)
        seen[now].set()

    monkeypatch.setattr(daily, "erase_due", noting)
    with erasing_daily(app):
        assert seen[LAST].wait(5)
        assert set(listed()) == {"Ana"}
        moved.append(LAST + timedelta(days=1))
        assert seen[moved[0]].wait(5)
    assert set(listed()) == {"erased"}
    assert "erasing daily" not in {thread.name for thread in threading.enumerate()}
