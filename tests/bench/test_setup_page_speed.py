"""The page of a setup with its plan, and a year of when it works, at a spot of the demo town, as the server answers.

Seconds are of the processor, the best of several; a page's peer is the page of the spot itself in the same run.
"""

from __future__ import annotations

import pytest

from models.planning import year as years
from models.planning.answers import Moment
from models.planning.demo import open_demo
from models.planning.setups.keeping import all_setups
from models.planning.setups.kit import setup_of, whole_kit
from models.planning.setups.lit import read_lit, solved_in
from models.planning.setups.over_time import year_working
from models.planning.setups.tries import moment_of
from models.store.engine import Store
from models.store.setups import KeptSetup
from models.store.spots import Spot, get_spot
from tests.bench.timing import best_of
from webapp import create_app

pytestmark = pytest.mark.bench
PAGE_S, SOLVED_S, YEAR_S = 0.150, 0.005, 0.5


@pytest.fixture(scope="module")
def town(tmp_path_factory):
    store = open_demo(tmp_path_factory.mktemp("town") / "demo.sqlite3")
    yield store
    store.close()


def _at_its_spot(town: Store) -> tuple[KeptSetup, Spot, Moment]:
    kept = max(all_setups(town), key=lambda setup: len(setup.lights))
    with town.reading() as s:
        spot = get_spot(s, kept.tries[0].spot_id)
    return kept, spot, moment_of(kept.tries[0], spot.zone)


def test_the_page_with_its_plan(town, capsys):
    kept, spot, moment = _at_its_spot(town)
    client = create_app(town, config_changes={"SECRET_KEY": "only for tests", "TESTING": True}).test_client()
    there = f"on={moment.local:%Y-%m-%d}&at={moment.local:%H}%3A{moment.local:%M}&sky=2"

    def page(path: str) -> object:
        answer = client.get(path)
        assert answer.status_code == 200
        return answer

    page_s = best_of(lambda: page(f"/setups/{kept.id}?spot={spot.id}&{there}"))
    spot_s = best_of(lambda: page(f"/spots/{spot.id}?{there}"))
    with capsys.disabled():
        print(f"\nsetup of {len(kept.lights)} lights with its plan {1e3 * page_s:.0f} ms, limit {1e3 * PAGE_S:.0f} ms;")
        print(f"{page_s / spot_s:.2f} of the page of its spot")
    assert page_s < PAGE_S


def test_the_answer_and_the_year(town, capsys):
    kept, spot, moment = _at_its_spot(town)
    setup, lit = setup_of(kept, whole_kit(town)), read_lit(town, {}, spot, moment)

    def year() -> None:
        years._MEMORY.__init__(most=24)  # type: ignore[misc]  the light of the year is worked out each time
        year_working(setup, kept.wanted, lit.light, moment, lit.looking_deg)

    solved_s = best_of(lambda: solved_in(setup, kept.wanted, lit), 50)
    year_s = best_of(year, 3)
    with capsys.disabled():
        print(f"\nsolved in {1e3 * solved_s:.1f} ms, limit {1e3 * SOLVED_S:.0f} ms")
        print(f"a year of when it works, its light included, {1e3 * year_s:.0f} ms, limit {1e3 * YEAR_S:.0f} ms")
    assert solved_s < SOLVED_S
    assert year_s < YEAR_S
