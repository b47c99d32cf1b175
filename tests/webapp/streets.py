"""Ground with rules, for pages that tell of them."""

from __future__ import annotations

from datetime import date

from models.rules.areas import Area, AreaDraft, Shape
from models.rules.rule import RuleDraft
from models.store import rules as kept
from models.store.engine import Store

LANE = (52.5301, 5.2312)
CHECKED = date(2026, 9, 1)


def square(latitude_deg: float, longitude_deg: float, half_deg: float = 0.0003) -> Shape:
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    return ((tuple((longitude_deg + x * half_deg, latitude_deg + y * half_deg) for x, y in corners),),)


def keep_streets(store: Store) -> Area:
    """An area over Foundry Lane: no stands on the ground, groups over 6 to be asked for, held ones with conditions."""
    facts = {"source_title": "By-law", "checked_on": CHECKED}
    place = {"name": "Old streets", "kind": "public_street", "authority": "Highways office"}
    with store.writing() as s:
        area = kept.add_area(s, AreaDraft(shape=square(*LANE), web="https://streets.example/rules", **place))
        for rule in (
            {"activity": "stand_ground", "found": "not_permitted"},
            {"activity": "group", "found": "needed", "over": 6, "lead_days": 5},
            {"activity": "stand_held", "found": "conditions", "conditions": "carried"},
        ):
            kept.add_rule(s, RuleDraft(area_id=area.id, **facts, **rule))
    return area
