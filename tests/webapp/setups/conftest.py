"""A setup of key and fill among the kit that a new database begins with."""

from __future__ import annotations

import pytest

from models.planning.kit import begin_with_kit
from models.planning.setups.keeping import add_setup
from models.store.engine import Store
from models.store.setups import LightDraft, SetupDraft

WHEN = "spot=1&on=2026-10-17&at=16%3A40&looking=270"
KEY = LightDraft(role="key", flash="large", modifier="small-box", axis_deg=-45, battery="rechargeable")
FILL = LightDraft(role="fill", flash="small", axis_deg=30, distance_m=2.5, power=1 / 16)
DRAFT = SetupDraft(title="Key and fill", camera="main-camera", trigger="plain-radio", lights=(KEY, FILL))


@pytest.fixture(autouse=True)
def kit(store: Store) -> None:
    begin_with_kit(store)


@pytest.fixture
def setup_id(store: Store, kit: None) -> int:
    return add_setup(store, DRAFT).id
