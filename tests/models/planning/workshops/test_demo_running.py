"""The demo town's whole workshop: everything is there for its running order, and the order is one to show."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from models.planning.demo import HAVENMARK
from models.planning.workshops.demo import RUNNING_FILE, fill_running
from models.planning.workshops.fallback import fallback_order
from models.planning.workshops.minutes import minutes_of
from models.planning.workshops.running import Running, running_of
from models.problems import InputProblem
from models.store import rules as kept
from models.store.engine import Store
from tests.databases import copy_of

NOW = datetime(2026, 10, 10, 9, 0, tzinfo=UTC)
TITLE = "Afternoon in the lane"


@pytest.fixture(scope="module")
def town(demo_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store:
        yield store


@pytest.fixture(scope="module")
def running(town: Store) -> Running:
    with town.reading() as s:
        (number,) = [each.id for each in kept.list_workshops(s) if each.title == TITLE]
    return running_of(town, number, NOW)


def test_it_is_whole_and_by_initials_only(running: Running) -> None:
    parts = [person.part for person in running.people]
    assert [parts.count(part) for part in ("attendee", "model", "helper")] == [9, 3, 1]
    assert all(len(person.name) == 4 and person.name[1::2] == ".." for person in running.people)
    assert all(person.erase_after and person.erase_after.year >= 2029 for person in running.people)
    assert sorted(running.station_names.values()) == ["A", "B", "C"]
    assert not running.missing


def test_three_groups_of_three_go_round_three_stations_in_time(running: Running) -> None:
    worked = running.worked
    assert worked is not None
    assert [[len(visit.turns) for visit in each.visits] for each in worked.rota.rounds] == [[3, 3, 3]] * 3
    assert (worked.rota.short, worked.order.fits, worked.cells.unknown) == (0, True, ())
    assert not worked.schedule.uncounted
    assert not worked.schedule.hopeless


def test_every_setup_beats_the_daylight_of_its_rounds(town: Store, running: Running) -> None:
    assert running.worked is not None
    found = minutes_of(town, running, running.worked.order)
    assert len(found.stations) == 3
    for station in found.stations:
        assert min(station.reserve_stops) > 1.5, station.post
    assert found.dark is not None
    assert not any(found.dark.dark)


def test_its_fallback_is_another_guards_and_takes_all_of_it(town: Store, running: Running) -> None:
    there = fallback_order(town, running)
    assert there is not None
    assert (there.name, there.same_guard, there.known, there.frames) == ("Linden Walk", (), True, 10)


def test_a_file_that_names_what_is_not_there_is_refused_by_name(town: Store, tmp_path: Path) -> None:
    shutil.copy(HAVENMARK / RUNNING_FILE, tmp_path)
    path = tmp_path / RUNNING_FILE
    whole = path.read_text("utf-8")
    for what, name in (("setup", "Single gridded key"), ("model", "T.U."), ("workshop", TITLE)):
        path.write_text(whole.replace(f'= "{name}"', '= "Nobody"', 1) if what != "model" else
                        whole.replace(f'model = "{name}"', 'model = "Nobody"'), "utf-8")  # fmt: skip
        with town.writing() as s:
            with pytest.raises(InputProblem, match=f"there is no {what} named 'Nobody'"):
                fill_running(s, tmp_path)
            s.rollback()
