"""Areas and rules to plan with: plain ones, to be changed where a test needs it."""

from __future__ import annotations

from datetime import date
from typing import Any

from models.rules.areas import AreaDraft, Shape
from models.rules.rule import RuleDraft

TODAY = date(2026, 10, 17)
HOSTILE = "`${1}`</script><img src=x onerror=document.title=1>"


def square(south: float = 52.52, west: float = 5.22, side: float = 0.01) -> Shape:
    north, east = south + side, west + side
    return ((((west, south), (east, south), (east, north), (west, north), (west, south)),),)


def area(**changes: Any) -> AreaDraft:
    plain: dict[str, Any] = {"name": "Corn Square", "kind": "public_street", "authority": "Council", "shape": square()}
    return AreaDraft(**plain | changes)


def rule(**changes: Any) -> RuleDraft:
    plain: dict[str, Any] = {
        "area_id": None if "spot_id" in changes else 1,
        "activity": "stand_ground",
        "found": "needed",
        "source_title": "By-law",
        "checked_on": date(2026, 9, 1),
    }
    return RuleDraft(**plain | changes)
