"""The fields of a workshop's form in their groups."""

from __future__ import annotations

from models.planning.rules.what_if import COUNTED, TICKED
from webapp.spots.fields import Choices, Field, Group

SPOT_HINT = "Its name, or its number."


def groups_of_fields(spots: Choices) -> tuple[Group, ...]:
    """spots: to choose from; none where there are too many for a list."""
    where = Field("spot", "Spot", "choice", choices=spots) if spots else Field("spot", "Spot", hint=SPOT_HINT)
    other = "Where you go when moved on or rained off."
    fallback = (
        Field("fallback", "Fallback", "choice", hint=other, choices=(("", "none"), *spots))
        if spots
        else Field("fallback", "Fallback", hint=f"{other} {SPOT_HINT}")
    )
    return (
        Group("When and where", (
            Field("title", "Title", "wide", hint="Empty takes the name of the spot."),
            where,
            Field("day", "Day", hint="Like 2026-10-17, 17.10. or 17 Oct."),
            Field("from_time", "Set up from", "short", hint="Local time at the spot."),
            Field("to_time", "Packed up by", "short", hint="A time, or how long: 18:30, 90 min."),
        )),
        Group("What is done", tuple(_doing(name) for name in (
            "group", "models", "teaching", "stand_ground", "stand_held", "tripod", "flash_held", "obstruction",
        ))),
        Group("Round it", (
            Field("width_left", "Width left for walkers", "short", "metres or feet", "Leave empty if not measured."),
            Field("meeting_point", "Meeting point", hint="Coordinates, or the name of a spot."),
            fallback,
        )),
        Group("More: vehicles, signs, filming", tuple(map(_doing, ("cable", "vehicle", "signs", "filming")))),
    )  # fmt: skip


def _doing(name: str) -> Field:
    if name in COUNTED:
        counted = COUNTED[name]
        label = counted.label[0].upper() + counted.label[1:]
        return Field(name, label, "short", counted.many)
    ticked = TICKED[name]
    choices = (("no", ticked.left), ("yes", ticked.done))
    return Field(name, ticked.label[0].upper() + ticked.label[1:], "choice", choices=choices)
