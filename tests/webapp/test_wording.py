"""No page round the rules says that anything may be done: every one of the demo town, in several states."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from models.planning.answers import Moment
from models.planning.rules.spot_line import spot_line
from models.rules.enquiry import STATES
from models.store import rules as kept
from models.store.spots import list_spots
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from models.workshop.briefing import READERS
from tests.databases import copy_of
from tests.webapp.conftest import Client
from tests.webapp.rules.test_findings import seen
from webapp import create_app

FEATURES = ("rules", "workshops", "stations", "enquiries", "papers", "deadlines")
FILES = (".json", ".geojson", ".ics", ".js", "/files/")
WHAT_IFS = (
    "on=2026-10-31&at=17:00",
    "on=2026-11-14&at=09:00&stand_ground=3&group=14&tripod=1&filming=yes&vehicle=yes&signs=yes&cable=yes&obstruction=yes",
    "on=2027-01-02&at=14:45&lasts=150min&group=11&models=2&stand_ground=2&flash_held=2",
    "on=2026-11-14&at=09:00&fallback=1&meet=52.5288,5.2275&width=1.8+m&group=many",
)
BEFORE = datetime(2026, 10, 20, 9, 0, tzinfo=UTC)
THE_DAY = datetime(2027, 1, 2, 9, 0, tzinfo=UTC)
"""Of the demo's first workshop."""


@pytest.fixture(scope="module")
def town(demo_once, tmp_path_factory):
    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store:
        yield store


def client_on(day: datetime, town) -> Client:
    app = create_app(town, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: day})
    app.test_client_class = Client
    return app.test_client()


def numbers(store) -> dict[str, list[int]]:
    with store.reading() as s:
        return {
            "spot_id": [spot.id for spot in list_spots(s)],
            "area_id": [area.id for area in kept.list_areas(s, limit=None)],
            "rule_id": [rule.id for rule in kept.list_rules(s)][:3],
            "workshop_id": [workshop.id for workshop in kept.list_workshops(s)],
            "enquiry_id": [enquiry.id for enquiry in kept.list_enquiries(s)],
            "paper_id": [paper.id for paper in kept.list_papers(s)],
        }


def addresses(app, store, features=FEATURES) -> Iterator[str]:
    """Every page of these features, for everything that the town has."""
    known = numbers(store)
    for rule in app.url_map.iter_rules():
        if rule.endpoint.partition(".")[0] not in features or "GET" not in (rule.methods or ()):
            continue
        if any(part in rule.rule for part in FILES) or not set(rule.arguments) <= set(known):
            continue
        for number in known[next(iter(rule.arguments))] if rule.arguments else [None]:
            yield from asked(re.sub(r"<[^>]+>", str(number), rule.rule))


def asked(address: str) -> list[str]:
    """An address with what it needs to be asked."""
    if "spots" in address:
        return [f"{address}?{words}" for words in WHAT_IFS]
    return [f"{address}?state={state}" for state in STATES] if address.endswith("/steps/new") else [address]


def must_keep_to_it(client: Client, address: str) -> None:
    page = client.get(address, follow_redirects=True)
    assert page.status_code in (200, 422), address
    text = seen(page.text)
    assert forbidden_in(text) == [], address
    if page.status_code == 200 or "what-if" in page.text:
        assert STANDING_NOTE in text, address


def test_no_page_says_that_anything_may_be_done(town):
    client = client_on(BEFORE, town)
    looked_at = list(addresses(client.application, town))
    assert len(looked_at) > 60
    for address in looked_at:
        must_keep_to_it(client, address)


def test_nor_on_the_day_itself(town):
    client = client_on(THE_DAY, town)
    for address in addresses(client.application, town, ("workshops", "deadlines")):
        must_keep_to_it(client, address)


def test_nor_do_the_pages_of_the_street(town):
    client = client_on(BEFORE, town)
    looked_at = list(addresses(client.application, town, ("street",)))
    assert len(looked_at) >= 20
    for address in looked_at:
        page = client.get(address.partition("?")[0], query_string="on=2026-10-31&at=15:00", follow_redirects=True)
        assert page.status_code == 200, address
        assert forbidden_in(seen(page.text)) == [], address


@pytest.mark.parametrize("reader", READERS)
def test_nor_does_a_briefing(town, reader):
    """As each reader gets it, and the forms of its texts, which all readers' texts stand in."""
    client = client_on(BEFORE, town)
    looked_at = list(addresses(client.application, town, ("briefings",)))
    assert len(looked_at) > 2 * len(numbers(town)["workshop_id"])
    for address in looked_at:
        page = client.get(address, query_string={"for": reader}, follow_redirects=True)
        assert page.status_code == 200, address
        assert forbidden_in(seen(page.text)) == [], address


def test_the_spot_page_keeps_to_it(town):
    """In what it says of rules; its scouting notes are the organiser's own."""
    with town.reading() as s:
        spots = list_spots(s)
    for spot in spots:
        for days in range(0, 400, 25):
            moment = Moment(BEFORE + timedelta(days=days), spot.zone, 2, "assumed")
            told = spot_line(town, spot, moment, {"stand_ground": "2"}, BEFORE).said.text
            assert forbidden_in(told) == [], (spot.id, days)


def test_the_search_finds_what_it_looks_for():
    assert forbidden_in("You are allowed to stand here.") != []
