"""Rules: what was found out, by area or by spot. Those of an area or a spot put aside are put aside with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.rules.checking import checked_rule
from models.rules.rule import Rule, RuleDraft
from models.store import spots
from models.store.rules import areas
from models.store.rules.tables import rules
from models.store.versions import Condition, Shelf


def _put_aside(place: sa.Table, link: sa.Column[int | None]) -> Condition:
    return sa.exists().where(place.c.id == link, place.c.deleted_at.is_not(None))


shelf = Shelf[RuleDraft, Rule](
    what="rule",
    table=rules,
    kept=Rule,
    check=checked_rule,
    links={"area_id": areas.shelf, "spot_id": spots.shelf},
    present=~(_put_aside(areas.shelf.table, rules.c.area_id) | _put_aside(spots.shelf.table, rules.c.spot_id)),
)
ORDER = (rules.c.area_id.nulls_last(), rules.c.spot_id, rules.c.activity, rules.c.id)


def add_rule(s: Session, draft: RuleDraft) -> Rule:
    return shelf.add(s, draft)


def add_rules(s: Session, drafts: Sequence[RuleDraft]) -> None:
    """Many at once, all or none; InputProblem names the rule by its place in the row, from 1."""
    shelf.add_all(s, drafts)


def get_rule(s: Session, rule_id: int) -> Rule:
    return shelf.get(s, rule_id)


def list_rules(s: Session, *, limit: int | None = None, offset: int = 0) -> tuple[Rule, ...]:
    """Those of areas, then those of spots."""
    return shelf.list(s, order_by=ORDER, limit=limit, offset=offset)


def rules_of_area(s: Session, area_id: int) -> tuple[Rule, ...]:
    return rules_for(s, (area_id,), None)


def rules_of_spot(s: Session, spot_id: int) -> tuple[Rule, ...]:
    return rules_for(s, (), spot_id)


def rules_for(s: Session, area_ids: Iterable[int], *spot_ids: int | None) -> tuple[Rule, ...]:
    """Those of any of the areas, and of any of the spots; None is no spot."""
    of_spot = rules.c.spot_id.in_(set(spot_ids) - {None})
    return shelf.list(s, sa.or_(rules.c.area_id.in_(set(area_ids)), of_spot), order_by=ORDER)


def change_rule(s: Session, rule_id: int, version: int, draft: RuleDraft) -> Rule:
    return shelf.change(s, rule_id, version, draft)


def delete_rule(s: Session, rule_id: int, version: int, *, now: datetime | None = None) -> Rule:
    return shelf.delete(s, rule_id, version, now=now)


def restore_rule(s: Session, rule_id: int) -> Rule:
    return shelf.restore(s, rule_id)
