"""The fields of a setup's form in their groups; what may be chosen is the kit that is owned."""

from __future__ import annotations

from models.light.kit import Kit
from models.light.setup import ROLES
from models.planning.setups.form import NUMBERS
from webapp.spots.fields import Choices, Field, Group

NONE = ("", "none")


def groups_of_fields(kit: Kit) -> tuple[Group, ...]:
    return (
        Group("The setup", (
            Field("title", "Title", "wide"),
            Field("camera", "Camera", "choice", choices=_named(kit.cameras)),
            Field("trigger", "Trigger", "choice", choices=(NONE, *_named(kit.triggers))),
            Field("shutter_s", "Shutter to start from", "short", "", "Like 1/125."),
            Field("aperture", "Aperture to start from", "short", "", "Like f/5.6."),
            Field("iso", "ISO to start from", "short"),
            Field("camera_m", "From camera to model", "short", "metres or feet"),
            Field("lens_mm", "Lens", "short", "mm", "On the full frame."),
        )),
        *(_light(number, kit) for number in NUMBERS),
        Group("What is wanted", (
            Field("ratio", "Ratio", "choice", choices=(
                ("key:fill", "key to fill, flash against flash"),
                ("face", "face, the light already there counted as fill"),
            )),
            Field("ratio_stops", "Ratio in stops", "short", "stops"),
            Field("edge_stops", "Edge over the working aperture", "short", "stops", "Below zero for under."),
            Field("hair_stops", "Hair over the working aperture", "short", "stops"),
            Field("background_stops", "Background over the working aperture", "short", "stops"),
            Field("surroundings_under", "Surroundings under", "short", "stops"),
            Field("face_under", "Light already on the face under", "short", "stops"),
            Field("stay_at", "Stay at this aperture", "short", "", "Empty lets the lights decide."),
            Field("farthest_m", "No light further than", "short", "metres or feet"),
        )),
        Group("Anything else", (Field("notes", "Notes", "text"),)),
    )  # fmt: skip


def _light(number: int, kit: Kit) -> Group:
    def field(name: str) -> str:
        return f"light_{number}_{name}"

    grids = tuple(modifier for modifier in kit.modifiers if modifier.kind == "grid")
    return Group(f"Light {number}", (
        Field(field("role"), "What it is for", "choice", choices=(("", "no such light"), *((r, r) for r in ROLES))),
        Field(field("flash"), "Flash", "choice", choices=(NONE, *_named(kit.flashes))),
        Field(field("units"), "How many of them together", "short"),
        Field(field("modifier"), "Modifier", "choice", choices=(("", "bare"), *_named(kit.modifiers))),
        Field(field("grid"), "Grid before it", "choice", choices=(NONE, *_named(grids))),
        Field(field("gel"), "Gel", "choice", choices=(NONE, *_named(kit.gels))),
        Field(field("zoom_mm"), "Zoom", "short", "mm", "Empty is the widest."),
        Field(field("power"), "Power", "short", "of full", "Like 1/4, or off."),
        Field(field("axis_deg"), "Where, on the model's clock", "line", "",
              "12 is at the camera, 3 camera left, 9 camera right. Like 10, half past 10, or 45° left."),
        Field(field("distance_m"), "From the face", "short", "metres or feet"),
        Field(field("height_m"), "Above the ground", "short", "metres or feet"),
        Field(field("held"), "Held by", "choice", choices=(("yes", "somebody's hand"), ("no", "a stand"))),
        Field(field("stand"), "Stand", "choice", choices=(NONE, *_named(kit.stands))),
        Field(field("battery"), "Battery set", "choice", choices=(("", "not noted"), *_named(kit.batteries))),
    ))  # fmt: skip


def _named(pieces: tuple[object, ...]) -> Choices:
    return tuple((getattr(piece, "id", ""), getattr(piece, "name", "")) for piece in pieces)
