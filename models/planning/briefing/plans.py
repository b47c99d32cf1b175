"""Plans of a workshop's setups for its briefing, each as it stands at the start."""

from __future__ import annotations

from datetime import datetime

from models.drawing.on_paper import on_paper
from models.planning.setups.plan import plan_of
from models.planning.workshops.running import running_of
from models.store.engine import Store
from models.workshop.briefing import Briefing


def setup_plans(store: Store, workshop_id: int, briefing: Briefing, now: datetime) -> dict[int, str]:
    """Those that the briefing wants drawn, by number of the setup: SVG for a phone, with its tones in it.

    One whose kit or light is not known has none. Raises Missing.
    """
    wanted = {setup for section in briefing.sections for setup in section.drawings}
    if not wanted:
        return {}
    found: dict[int, str] = {}
    for light in running_of(store, workshop_id, now).lights.values():
        if light.kept.id in wanted - found.keys():
            found[light.kept.id] = on_paper(plan_of(light.kept, light.solved.setup, light.lit).narrow)
    return found
