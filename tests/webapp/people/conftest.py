"""A workshop whose people are kept, with one of each part."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.people import people_of

STARTS = datetime(2026, 10, 31, 16, 0, tzinfo=UTC)


@pytest.fixture
def workshop(store):
    draft = WorkshopDraft(
        title="Evening light",
        spot_id=1,
        starts=STARTS,
        ends=STARTS + timedelta(hours=2),
        doing=Doing(group=9, models=1),
    )
    with store.writing() as s:
        return rules.add_workshop(s, draft).id


@pytest.fixture
def there(workshop):
    return f"/workshops/{workshop}/people"


@pytest.fixture
def listed(store, workshop):
    """The people on the list, by name."""

    def by_name():
        with store.reading() as s:
            return {each.name: each for each in people_of(s, workshop)}

    return by_name


@pytest.fixture
def put(client, there, listed):
    """Put somebody on the list by the form; the person as kept."""

    def add(name, **form):
        sent = client.send(there, {"name": name, "part": "attendee"} | form)
        assert sent.status_code == 303, sent.text
        return listed()[name]

    return add
