"""The fields of a station's form in their groups."""

from __future__ import annotations

from webapp.spots.fields import Choices, Field, Group

PLACE = Field(
    "shape", "Exact place", "text",
    hint="Where the model stands: coordinates, or a press on the map. The last line counts; empty is the spot itself.",
)  # fmt: skip


def station_groups(setups: Choices, models: Choices) -> tuple[Group, ...]:
    return (
        Group("What stands there", (
            Field("name", "Called out as", "short", hint="A letter, or a short word."),
            Field("setup", "Setup", "choice", choices=setups),
            Field("model", "Model", "choice", choices=models),
            Field("lesson", "The lesson, in one line", "wide", hint="What is learnt at this station."),
        )),
        Group("The room it takes", (
            Field("depth", "Depth from the wall", "short", "metres or feet",
                  "People and lights included. Empty reckons it from the setup."),
            Field("width", "Length along the wall", "short", "metres or feet"),
            Field("looking", "The camera looks", "short", "degrees or a point",
                  "Like 270 or west. Empty takes the spot's own."),
        )),
        Group("Hands and time", (
            Field("holders", "Hold a light", "short", "people", "Empty is one for each light that is held."),
            Field("watchers", "Watch the pavement", "short", "people"),
            Field("pose", "A pose takes", "short", "seconds", "Like 8 s. Empty takes the workshop's."),
            Field("notes", "Notes", "text"),
        )),
    )  # fmt: skip
