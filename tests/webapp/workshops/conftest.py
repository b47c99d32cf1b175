"""Ground with rules, and an evening planned on it."""

from __future__ import annotations

import pytest

from tests.webapp.streets import keep_streets
from tests.webapp.workshops.evening import FORM


@pytest.fixture
def streets(store):
    return keep_streets(store)


@pytest.fixture
def evening(client):
    sent = client.send("/workshops", FORM, "/workshops/new")
    assert sent.status_code == 303, sent.text
    return sent.headers["Location"]
