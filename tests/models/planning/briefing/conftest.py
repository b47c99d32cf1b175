"""The evening to brief on, kept once for the folder and copied for each test."""

from __future__ import annotations

import pytest

from tests.databases import copy_of, filled
from tests.models.planning.briefing.briefed import keep_briefed


@pytest.fixture(scope="package")
def briefed_once(made_once, tmp_path_factory):
    return filled(made_once, tmp_path_factory.mktemp("briefed"), keep_briefed)


@pytest.fixture
def briefed(briefed_once, tmp_path):
    with copy_of(briefed_once, tmp_path) as store:
        yield store
