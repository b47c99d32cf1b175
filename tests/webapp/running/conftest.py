"""An evening with people, stations and a fallback, filled once a worker."""

from __future__ import annotations

import pytest

from tests.databases import filled
from tests.models.planning.workshops.running_evening import keep_running


@pytest.fixture(scope="session")
def running_once(made_once, tmp_path_factory):
    return filled(
        made_once,
        tmp_path_factory.mktemp("running"),
        lambda store: keep_running(store, attendees=6, stations="AB", models=1, helpers=1, fallback=True),
    )


@pytest.fixture
def begun(running_once):
    return running_once
