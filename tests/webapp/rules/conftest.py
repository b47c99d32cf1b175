"""Two areas and some rules in the town of the page tests."""

from __future__ import annotations

import pytest

from models.planning.rules.areas import add_area, add_rule
from tests.models.planning.rules.town import area, rule, square


@pytest.fixture
def town(store):
    """Areas 1 and 2, rule 1 on the first, rule 2 on spot 1."""
    add_area(store, area())
    add_area(store, area(name="Old quay", kind="waterfront", authority="Harbour office", shape=square(52.528, 5.226)))
    add_rule(store, rule(lead_days=10, source_link="https://council.example/4"))
    add_rule(store, rule(spot_id=1, activity="flash_held", found="not_permitted", spoken=True))
    return store
