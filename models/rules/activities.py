"""What a rule can speak of, and what a workshop does of it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Activity:
    """counted: a rule on it may begin over a number of them. more: seldom needed, folded away on forms."""

    key: str
    words: str
    counted: str = ""
    more: bool = False


ACTIVITIES: dict[str, Activity] = {
    activity.key: activity
    for activity in (
        Activity("stand_ground", "stand on the ground", "stands"),
        Activity("stand_held", "hand-held stand", "stands"),
        Activity("tripod", "tripod", "tripods"),
        Activity("flash_held", "hand-held flash", "flashes"),
        Activity("group", "group of people", "people"),
        Activity("teaching", "paid teaching"),
        Activity("models", "models", "models"),
        Activity("obstruction", "obstruction of the footway"),
        Activity("cable", "cable or generator", more=True),
        Activity("vehicle", "vehicle", more=True),
        Activity("signs", "signs", more=True),
        Activity("filming", "filming", more=True),
    )
}
"""In the order in which pages list them."""
