"""A setup of key and fill among the kit that a new database begins with."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.planning.kit import begin_with_kit
from models.planning.setups.keeping import add_setup
from models.store.engine import Store
from models.store.setups import LightDraft, SetupDraft
from tests.databases import filled

WHEN = "spot=1&on=2026-10-17&at=16%3A40&looking=270"
KEY = LightDraft(role="key", flash="large", modifier="small-box", axis_deg=-45, battery="rechargeable")
FILL = LightDraft(role="fill", flash="small", axis_deg=30, distance_m=2.5, power=1 / 16)
DRAFT = SetupDraft(title="Key and fill", camera="main-camera", trigger="plain-radio", lights=(KEY, FILL))


@pytest.fixture(scope="session")
def kit_once(spots_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(spots_once, tmp_path_factory.mktemp("kit"), begin_with_kit)


@pytest.fixture
def begun(kit_once: Path) -> Path:
    return kit_once


@pytest.fixture
def setup_id(store: Store) -> int:
    return add_setup(store, DRAFT).id
