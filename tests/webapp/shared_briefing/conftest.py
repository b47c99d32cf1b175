"""An evening with a station and people, and the links to its briefing."""

from __future__ import annotations

import pytest

from models.planning.briefing.shares import links_page, make_links
from models.store.people import shelf as people
from models.workshop.briefing import READERS
from models.workshop.person import PersonDraft
from tests.models.planning.workshops.evening import keep_evening, keep_station
from tests.webapp.conftest import NOW

PEOPLE = (("attendee", "Zora Quill"), ("model", "Ines Vantongeren"), ("helper", "Bo Ferwerda"))
NUMBER = "+31 20 555 0199"


@pytest.fixture
def evening(store) -> int:
    workshop_id, setup_id = keep_evening(store)
    keep_station(store, workshop_id, setup_id=setup_id)
    with store.writing() as s:
        for part, name in PEOPLE:
            people.add(s, PersonDraft(workshop_id=workshop_id, part=part, name=name, contact=NUMBER))
    make_links(store, workshop_id, READERS)
    return workshop_id


@pytest.fixture
def tokens(app, store, evening) -> dict[str, str]:
    """By kind of reader."""
    return {each.reader: each.token for each in links_page(store, app.config["SECRET_KEY"], evening, NOW).links}
