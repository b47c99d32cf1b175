"""Plans of a workshop's setups for its briefing, each as it stands at the start."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from models.drawing.on_paper import on_paper
from models.drawing.plan_parts import PlanView
from models.drawing.plan_view import draw_plan_view
from models.planning.setups.plan import plan_view_of
from models.planning.workshops.running import running_of
from models.store.engine import Store
from models.workshop.briefing import Briefing


def setup_plans(store: Store, workshop_id: int, briefing: Briefing, now: datetime) -> dict[int, str]:
    """Those that the briefing wants drawn, by number of the setup: SVG for a phone, with its tones in it.

    One whose kit or light is not known has none. Raises Missing.
    """
    views = plan_views(store, workshop_id, briefing, now)
    return {setup: on_paper(draw_plan_view(view, "narrow")) for setup, view in views.items()}


def plan_views(store: Store, workshop_id: int, briefing: Briefing, now: datetime) -> dict[int, PlanView]:
    """What those plans show. Raises Missing."""
    wanted = {setup for section in briefing.sections for setup in section.drawings}
    if not wanted:
        return {}
    found: dict[int, PlanView] = {}
    for light in running_of(store, workshop_id, now).lights.values():
        if light.kept.id in wanted - found.keys():
            view = plan_view_of(light.kept, light.solved.setup, light.lit)
            found[light.kept.id] = replace(view, id_prefix=f"plan-{light.kept.id}")
    return found
