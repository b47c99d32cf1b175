"""The deadlines page over 500 workshops of a town with 200 rule areas and 1,600 rules, as the server answers it.

Its peer is the plain way: the findings of each workshop looked up one after another, as the page of one workshop does.
Seconds are of the processor, the best of several.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from models.planning.rules.coming import coming_workshops
from models.planning.rules.findings import findings_at
from models.rules.activities import ACTIVITIES
from models.rules.areas import AreaDraft
from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Doing
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.engine import Store, open_store, upgrade
from models.store.settings import put_setting
from models.store.spots import add_spots
from models.street.spot import SpotDraft
from tests.bench.timing import best_of
from webapp import create_app

pytestmark = pytest.mark.bench

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
WORKSHOPS, SPOTS, AREAS = 500, 60, 200
MOST_S = 0.2
FOUND = ("needed", "needed", "needed", "conditions", "not_permitted", "none_found", "permitted", "unknown")


@pytest.fixture(scope="module")
def store(tmp_path_factory):
    opened = open_store(f"sqlite:///{tmp_path_factory.mktemp('deadlines') / 'own.sqlite3'}")
    upgrade(opened)
    fill(opened)
    yield opened
    opened.close()


def fill(store: Store) -> None:
    random = np.random.default_rng(7)
    with store.writing() as s:
        put_setting(s, "holidays", "NL")
        add_spots(s, [spot(number, *random.uniform(0, 0.05, 2)) for number in range(SPOTS)])
        kept.add_areas(s, [area(number, *random.uniform(-0.01, 0.05, 2)) for number in range(AREAS)])
        kept.add_rules(
            s, [rule(number + 1, key, k) for number in range(AREAS) for k, key in enumerate(ACTIVITIES)][:1600]
        )
        for number in range(WORKSHOPS):
            kept.add_workshop(s, workshop(number))
        for number in range(100):
            kept.add_enquiry(s, enquiry(number), now=NOW)
        kept.add_paper(s, PaperDraft(kind="insurance", title="Public liability", valid_to=date(2026, 12, 31)))


def spot(number: int, north: float, east: float) -> SpotDraft:
    return SpotDraft(
        name=f"Spot {number:02d}", latitude_deg=52.5 + north, longitude_deg=5.2 + east, zone="Europe/Amsterdam"
    )


def area(number: int, north: float, east: float) -> AreaDraft:
    """A ring of 40 corners, some 550 m across."""
    turns = np.linspace(0, 2 * np.pi, 41)[:-1]
    ring = [(5.2 + east + 0.004 * np.cos(turn), 52.5 + north + 0.0026 * np.sin(turn)) for turn in turns]
    shape = (((*ring, ring[0]),),)
    values = {"kind": "public_street", "authority": f"Office {number % 9}", "no_passing": number % 10 == 0}
    return AreaDraft(name=f"Area {number:03d}", shape=shape, **values)


def rule(area_id: int, activity: str, kind: int) -> RuleDraft:
    return RuleDraft(
        area_id=area_id,
        activity=activity,
        found=FOUND[(area_id + kind) % len(FOUND)],
        conditions="weights on every stand",
        lead_days=(5, 10, 15)[area_id % 3],
        source_title="By-law",
        checked_on=date(2026, 1, 5),
        check_again=date(2026, 9, 1) if area_id % 17 == 0 else None,
    )


def workshop(number: int) -> WorkshopDraft:
    starts = NOW + timedelta(days=1 + number % 180, hours=number % 5)
    return WorkshopDraft(
        title=f"Workshop {number}",
        spot_id=number % SPOTS + 1,
        starts=starts,
        ends=starts + timedelta(minutes=90),
        doing=Doing(group=8 + number % 9, models=2, stand_ground=number % 4, tripod=number % 2),
        meeting_point=(52.51, 5.21) if number % 3 == 0 else None,
    )


def enquiry(number: int) -> EnquiryDraft:
    day = date(2026, 10, 25) + timedelta(days=number)
    return EnquiryDraft(
        to_whom="Office",
        area_id=number % AREAS + 1,
        activities=("group", "teaching"),
        first_day=day,
        last_day=day,
        people=12,
        state="asked",
        sent_on=date(2026, 10, 1),
    )


def one_by_one(store: Store) -> None:
    with store.reading() as s:
        for each in coming_workshops(s, NOW):
            findings_at(s, each.spot, each.footprint, today=each.today, meeting_point=each.workshop.meeting_point)


def test_deadlines_of_500_workshops(store, capsys):
    app = create_app(store, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW})
    client = app.test_client()
    page = client.get("/deadlines.json").json
    assert page["workshops"] == WORKSHOPS
    assert page["total"] > WORKSHOPS
    page_s = best_of(lambda: client.get("/deadlines"), 5)
    file_s = best_of(lambda: client.get("/deadlines.ics"), 3)
    plain_s = best_of(lambda: one_by_one(store), 3)
    with capsys.disabled():
        row = f"deadlines page, {WORKSHOPS} workshops, {page['total']} lines | {page_s * 1000:.0f} ms"
        print(f"\n{row}, 1/{plain_s / page_s:.1f} of looking each up; calendar file {file_s * 1000:.0f} ms | 200 ms")
    assert page_s < MOST_S
    assert page_s < plain_s
