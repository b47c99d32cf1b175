"""The demo town's six setups: each works where its file says so, and fails elsewhere for the reason that it gives."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from models.light.solve import Solved
from models.planning.demo import HAVENMARK
from models.planning.facings import behind_parts
from models.planning.setups.keeping import all_setups
from models.planning.setups.kit import kit_notes, setup_of, whole_kit
from models.planning.setups.lit import Lit, read_lit, solved_in
from models.planning.setups.tries import moment_of, tries_shown
from models.store.engine import Store
from models.store.setups import KeptSetup, Try
from models.store.spots import get_spot
from models.words.setup_answer import light_names
from tests.databases import copy_of

ENTRIES = tomllib.loads((HAVENMARK / "setups.toml").read_text(encoding="utf-8"))["setup"]
FOUND = [(entry["title"], number, tried["found"]) for entry in ENTRIES for number, tried in enumerate(entry["try"])]


@pytest.fixture(scope="module")
def town(demo_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store:
        yield store


def lit_by(town: Store, tried: Try) -> Lit:
    with town.reading() as s:
        spot = get_spot(s, tried.spot_id)
    return read_lit(town, {"looking": f"{tried.looking_deg:g}"}, spot, moment_of(tried, spot.zone))


def titled(town: Store, title: str) -> KeptSetup:
    return next(setup for setup in all_setups(town) if setup.title == title)


def found(solved: Solved) -> str:
    """In the words of the file."""
    if solved.dialled.fit == "too bright":
        return "dials"
    names = light_names(solved.setup)
    off = [(name, one.cannot_stops) for name, one in zip(names, solved.lights, strict=True) if one.cannot_stops]
    return "works" if not off else f"{off[0][0]} {'lacks' if off[0][1] > 0 else 'too much'}"


def test_there_are_six_each_with_an_hour_where_it_works_and_one_where_it_does_not(town: Store) -> None:
    assert len(all_setups(town)) == 6
    for entry in ENTRIES:
        assert [tried["found"] == "works" for tried in entry["try"]] == [True, False], entry["title"]
        assert len(entry["try"][1]["why"]) > 20


@pytest.mark.parametrize(("title", "number", "expected"), FOUND)
def test_it_is_so_as_the_file_says(town: Store, title: str, number: int, expected: str) -> None:
    kept, whole = titled(town, title), whole_kit(town)
    solved = solved_in(setup_of(kept, whole), kept.wanted, lit_by(town, kept.tries[number]))
    assert found(solved) == expected
    assert solved.works == (expected == "works")


def test_where_it_works_ratios_come_within_a_third_of_a_stop(town: Store) -> None:
    for kept in all_setups(town):
        solved = solved_in(setup_of(kept, whole_kit(town)), kept.wanted, lit_by(town, kept.tries[0]))
        assert solved.figures.face_over_stops == pytest.approx(0, abs=1 / 3), kept.title
        if solved.figures.key_fill is not None:
            assert solved.figures.key_fill.stops == pytest.approx(kept.wanted.ratio_stops, abs=1 / 3), kept.title


def test_the_shade_key_stands_in_shade_before_a_sunlit_wall(town: Store) -> None:
    lit = lit_by(town, titled(town, "Shade key against a sunlit wall").tries[0])
    assert lit.now is not None
    assert lit.now.state == "shade"
    assert "sunlit wall" in {part.what for part in behind_parts(lit.now.series.light, lit.looking_deg or 0.0)}


def test_its_kit_is_all_there_and_the_verdicts_are_shown(town: Store) -> None:
    whole = whole_kit(town)
    for kept in all_setups(town):
        assert kit_notes(kept, whole) == ((), ())
        works, fails = tries_shown(town, kept, setup_of(kept, whole))
        assert works.verdict is not None
        assert works.verdict.text.startswith("Works")
        assert fails.verdict is not None
        assert fails.verdict.text.startswith("Does not work here")
