"""How workshops are run: one plan a workshop, with the usual figures where none is kept."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.workshops import shelf as workshops
from models.store.types import NestedTuple, TupleAsJson, UtcDateTime, metadata
from models.store.versions import Clash, Missing, Shelf
from models.workshop.plan import MINUTES, SECONDS, BlockEdit, Plan, PlanDraft, checked_plan

plans = sa.Table(
    "plans",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    sa.Column("group_size", sa.Integer, nullable=False),
    sa.Column("frames", sa.Integer),
    *(sa.Column(name, sa.Float, nullable=False) for name in (*SECONDS, *MINUTES)),
    sa.Column("walk_min", sa.Float),
    sa.Column("pace_m_s", sa.Float, nullable=False),
    sa.Column("test_flashes", sa.Integer, nullable=False),
    sa.Column("meets_by", sa.Text, nullable=False),
    sa.Column("indoors", sa.Text, nullable=False),
    sa.Column("fallback_ids", NestedTuple, nullable=False),
    sa.Column("talks", sa.Text, nullable=False),
    sa.Column("ambulance", sa.Text, nullable=False),
    sa.Column("language", sa.Text, nullable=False),
    sa.Column("organiser_helps", sa.Boolean, nullable=False),
    sa.Column("blocks", TupleAsJson(BlockEdit), nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.Column("lent", sa.Integer),
    sa.UniqueConstraint("workshop_id"),
    sqlite_autoincrement=True,
)

shelf = Shelf[PlanDraft, Plan](
    what="plan", table=plans, kept=Plan, check=checked_plan, links={"workshop_id": workshops}
)


def plan_of(s: Session, workshop_id: int) -> Plan | PlanDraft:
    """The plan of a workshop; as usual, and without a version, where none is kept."""
    found = shelf.list(s, plans.c.workshop_id == workshop_id, order_by=(plans.c.id,), limit=1)
    return found[0] if found else PlanDraft(workshop_id=workshop_id)


def keep_plan(s: Session, version: int, draft: PlanDraft) -> Plan:
    """version: 0 where none was kept yet. Raises Clash where somebody kept another meanwhile, Missing, InputProblem."""
    current = plan_of(s, draft.workshop_id)
    if not isinstance(current, Plan):
        if version:
            raise Missing(draft.workshop_id, "plan")
        return shelf.add(s, draft)
    if not version:
        raise Clash(current, "plan")
    return shelf.change(s, current.id, version, draft)
