"""The fields of a workshop's plan in their groups."""

from __future__ import annotations

from webapp.spots.fields import Choices, Field, Group

LANGUAGES: Choices = (("en", "English"), ("nl", "Dutch"), ("de", "German"), ("fr", "French"), ("es", "Spanish"))
YES_NO: Choices = (("yes", "yes"), ("no", "no"))


def plan_groups(spots: tuple[str, ...]) -> tuple[Group, ...]:
    """spots: names that may be typed as a fallback, none where they are too many to list."""
    known = f" Spots: {'; '.join(spots[:8])}{'; and others' if len(spots) > 8 else ''}." if spots else ""
    return (
        Group("Meeting and going elsewhere", (
            Field("meets_by", "To find the meeting point", "text",
                  hint="In words that somebody who was never there can follow."),
            Field("indoors", "Where to meet in rain", "wide", hint="Empty for nowhere indoors."),
            Field("fallbacks", "Further fallback spots", "text",
                  hint=f"One a line, in the order in which you would go there.{known}"),
            Field("decide_min", "Decide on the fallback before setting up", "short"),
            Field("talks", "Who talks if you are asked to stop", "wide", hint="One named person."),
            Field("ambulance", "Where an ambulance is sent to", "text", hint="Street, number, what to look for."),
            Field("language", "Language", "choice", choices=LANGUAGES),
        )),
        Group("Groups and turns", (
            Field("group_size", "People in a group", "short", "people"),
            Field("organiser_helps", "You can be lent as a hand", "choice", choices=YES_NO),
            Field("lent", "Hands lent to groups", "short", "hands", "Empty is one a helper; 0 is none."),
            Field("frames", "Frames a turn", "short", "frames", "Empty is 10, or 8 where every group is full."),
            Field("pose_s", "A pose takes", "short", "", "Like 6 s or 0:10."),
            Field("gap_s", "Clear line one frame needs", "short"),
            Field("handover_s", "Handing over trigger and lights", "short", "", "Like 20 s."),
            Field("wide_s", "A wide picture after each turn", "short"),
            Field("move_s", "Moving to the next station", "short", "", "Like 90 s or 2 min."),
            Field("test_flashes", "Test flashes of each unit", "short", "flashes"),
        )),
        Group("Before and after", (
            Field("meet_min", "Meeting, heads counted", "short", "", "Times like 10 min or 90 s."),
            Field("drink_min", "Warm drink and toilets", "short"),
            Field("walk_min", "The walk there", "short", "", "Empty is worked out from the way."),
            Field("pace", "Pace of the group", "short", "", "In m/s or km/h."),
            Field("setup_min", "Setting up", "short"),
            Field("safety_min", "The safety word", "short"),
            Field("group_picture_min", "Group picture with all lights", "short"),
            Field("pack_min", "Packing", "short"),
            Field("release_min", "Letting go, heads counted", "short"),
        )),
    )  # fmt: skip
