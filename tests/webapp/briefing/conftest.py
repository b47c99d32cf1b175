"""The app on an evening to brief on."""

from __future__ import annotations

import pytest

from tests.databases import filled
from tests.models.planning.briefing.briefed import keep_briefed


@pytest.fixture(scope="package")
def briefed_once(made_once, tmp_path_factory):
    return filled(made_once, tmp_path_factory.mktemp("briefed"), keep_briefed)


@pytest.fixture
def begun(briefed_once):
    return briefed_once
