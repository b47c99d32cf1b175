"""The widths that the rules of a place want left for walkers, as the clear-width page judges by them."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Session

from models.clock import day_words
from models.rules.activities import ACTIVITIES
from models.rules.footprint import Footprint
from models.rules.hours import touches
from models.rules.records import span_of
from models.rules.rule import Rule
from models.store import rules as kept
from models.store.spots import Spot
from models.street.clearance import Minimum
from models.words.rules import source_words


def recorded_minima(s: Session, spot: Spot, footprint: Footprint, today: date) -> tuple[Minimum, ...]:
    """One for each rule, of an area that touches the spot or of the spot, that wants a width left at that time."""
    areas = {area.id: area.name for area in kept.areas_at(s, spot.latitude_deg, spot.longitude_deg)}
    rules = kept.rules_for(s, areas, spot.id)
    day = max(today, footprint.day)
    return tuple(
        Minimum(f"the rule of {areas.get(rule.area_id or 0, 'this spot')}", rule.width_min_m, _source(rule, day))
        for rule in rules
        if rule.width_min_m is not None and touches(span_of(rule), footprint)
    )


def _source(rule: Rule, day: date) -> str:
    about = f"{source_words(rule)}, about {ACTIVITIES[rule.activity].words}"
    if rule.check_again is None or rule.check_again >= day:
        return about
    return f"{about}. Too old since {day_words(rule.check_again)}: check it again"
