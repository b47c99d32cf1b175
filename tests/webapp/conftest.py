"""A small app on a database of its own: three spots, a fixed clock, no network."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from models.store.engine import Store
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from tests.databases import copy_of, filled
from webapp import create_app
from webapp.security import limiter

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
HOSTILE = "`${1}`</script><img src=x onerror=document.title=1>"
ZONE = "Europe/Amsterdam"
ANY_PAGE = "/nowhere"
"""Every page has a form at its foot and so a token, an error page too; that one is the quickest."""
SPOTS = (("Foundry Lane", 52.5301, 5.2312), ("Ferry quay", 52.5288, 5.2275), (HOSTILE, 52.5307, 5.2290))


class Client(FlaskClient):
    """A client that can send a form as a browser would: with the token of the page it stands on."""

    def open(self, *args, **kwargs):
        return super().open(*args, **{"buffered": True, **kwargs})

    def send(self, address: str, form: dict[str, str], page: str = ANY_PAGE):
        return self.post(address, data=form | {"csrf_token": self.token(page)})

    def token(self, page: str = ANY_PAGE) -> str:
        found = re.search(r'name="csrf_token" value="([^"]+)"', self.get(page).text)
        assert found, f"{page} has no form"
        return found[1]


@pytest.fixture(scope="session")
def spots_once(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database of the three spots to copy."""
    return filled(made_once, tmp_path_factory.mktemp("spots"), _add_spots)


def _add_spots(kept: Store) -> None:
    with kept.writing() as s:
        for name, latitude, longitude in SPOTS:
            add_spot(s, SpotDraft(name=name, latitude_deg=latitude, longitude_deg=longitude, zone=ZONE))


@pytest.fixture
def begun(spots_once: Path) -> Path:
    """What the test's own database is a copy of; a folder of tests may begin with more."""
    return spots_once


@pytest.fixture
def store(begun: Path, tmp_path: Path) -> Iterator[Store]:
    with copy_of(begun, tmp_path) as kept:
        yield kept


@pytest.fixture(scope="session")
def app_once(spots_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """The application, made once: its addresses and templates are the same for every test, its database is not."""
    with copy_of(spots_once, tmp_path_factory.mktemp("app")) as kept:
        made = create_app(kept, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW, "TESTING": True})
        made.test_client_class = Client
        yield made


@pytest.fixture
def app(app_once: Flask, store: Store) -> Iterator[Flask]:
    """The application on the test's own database; what the test sets in it is put back."""
    config, extensions = dict(app_once.config), dict(app_once.extensions)
    app_once.extensions["kerbstand"] = store
    limiter.reset()
    yield app_once
    for changed, before in ((app_once.config, config), (app_once.extensions, extensions)):
        changed.clear()
        changed.update(before)


@pytest.fixture
def client(app: Flask) -> Client:
    return app.test_client()
