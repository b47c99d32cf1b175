"""An evening with a station and people, and the links to its briefing."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.planning.briefing.opened import whole_briefing
from models.planning.briefing.shares import links_page, make_links
from models.store.engine import Store
from models.store.people import shelf as people
from models.workshop.briefing import READERS
from models.workshop.person import PersonDraft
from tests.databases import filled
from tests.models.planning.workshops.evening import keep_evening, keep_station
from tests.webapp.conftest import NOW

PEOPLE = (("attendee", "Zora Quill"), ("model", "Ines Vantongeren"), ("helper", "Bo Ferwerda"))
NUMBER = "+31 20 555 0199"
EVENING = 1


def _begin(store: Store) -> None:
    workshop_id, setup_id = keep_evening(store)
    keep_station(store, workshop_id, setup_id=setup_id)
    with store.writing() as s:
        for part, name in PEOPLE:
            people.add(s, PersonDraft(workshop_id=workshop_id, part=part, name=name, contact=NUMBER))
    make_links(store, workshop_id, READERS, NOW)
    whole_briefing(store, workshop_id, "helper", NOW)  # its light is worked out once


@pytest.fixture(scope="session")
def evening_once(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(made_once, tmp_path_factory.mktemp("evening"), _begin)


@pytest.fixture
def begun(evening_once: Path) -> Path:
    return evening_once


@pytest.fixture
def evening() -> int:
    return EVENING


@pytest.fixture
def tokens(app, store, evening) -> dict[str, str]:
    """By kind of reader."""
    return {each.reader: each.token for each in links_page(store, app.config["SECRET_KEY"], evening, NOW).links}
