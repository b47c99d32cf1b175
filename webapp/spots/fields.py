"""The fields of a spot's form in their groups: label, unit, hint, and what may be chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from models.light.lamps import LIGHTING_CLASS_LX
from models.street.surfaces import GROUNDS, WALLS, Surface

Kind = Literal["short", "line", "wide", "text", "choice"]
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Field:
    """One field. unit stands in the field's line, hint under its label."""

    name: str
    label: str
    kind: Kind = "line"
    unit: str = ""
    hint: str = ""
    choices: Choices = ()


@dataclass(frozen=True, slots=True)
class Group:
    title: str
    fields: tuple[Field, ...]


def _surfaces(surfaces: tuple[Surface, ...]) -> Choices:
    return (("", "not noted"), *((s.key, f"{s.name}, {s.reflectance:.2f} ({s.source})") for s in surfaces))


ROOFS: Choices = (("none", "open sky"), ("arcade", "arcade or awning"), ("underpass", "underpass or bridge"))
LAMPS: Choices = (("", "not known"), *((key, f"{key}, {lux:g} lx") for key, lux in LIGHTING_CLASS_LX.items()))
OVERRIDE = "Empty takes the figure of the surface."

GROUPS: tuple[Group, ...] = (
    Group("Where it is", (
        Field("name", "Name", "wide"),
        Field("place", "Coordinates", hint="Latitude first: 52.5301, 5.2312 or 52°31'48\"N 5°13'52\"E."),
        Field("zone", "Time zone", hint="Like Europe/Amsterdam. Leave empty to take it from the place."),
        Field("floor_m", "Height of the floor above the street", "short", "metres",
              "For a deck or a terrace. Walls no higher than it do not count."),
        Field("roof", "Overhead", "choice", choices=ROOFS),
    )),
    Group("What the light falls on", (
        Field("wall_surface", "Walls around", "choice", choices=_surfaces(WALLS)),
        Field("wall_reflectance", "Light the walls send back", "short", "0 to 1", OVERRIDE),
        Field("ground_surface", "Ground", "choice", choices=_surfaces(GROUNDS)),
        Field("ground_reflectance", "Light the ground sends back", "short", "0 to 1", OVERRIDE),
        Field("looking_deg", "Usual way the camera looks", "short", "degrees or a point",
              "Like 270 or west. Leave empty when it is not settled."),
    )),
    Group("What stands in the way", (
        Field("measured", "Skyline measured by hand", "text",
              hint="One point a line: bearing and height in degrees, like 225 38. A phone's clinometer will do."),
        Field("canopies", "Trees and roofs", "text",
              hint="One a line: bearings; heights; light let through in leaf; bare; months in leaf; name. "
                   "Like 200-290; 20-60; 0.3; 0.67; 5,6,7,8,9,10; limes"),
        Field("shade_note", "Shade, as you saw it", "text"),
    )),
    Group("Air and lamps", (
        Field("turbidity", "Haze of a clear sky", "short", "Linke turbidity",
              "2 clean, 3 a usual town, 4 to 5 hazy, 6 and more on a hot murky day."),
        Field("lighting_class", "Street lighting", "choice", hint="Its lighting class, if known.", choices=LAMPS),
        Field("night_ev100", "Reading under the lamps", "short", "EV at ISO 100", "Your own reading at night."),
    )),
    Group("The pavement", (
        Field("pavement_width_m", "Clear width", "short", "metres or feet", "Like 3.5, 3.5 m or 11 ft."),
        Field("footfall_note", "Footfall", "text", hint="Who comes by, when, how many."),
        Field("surface_note", "Walls and ground", "text", hint="Colours, texture, glass, puddles."),
        Field("hazards", "Hazards", "text", hint="Cycle lane, kerb, water, tram, doors that open."),
        Field("facilities", "Facilities", "text", hint="Toilets, shelter, coffee, somewhere to sit."),
        Field("controller", "Who controls it", "wide", hint="Council, harbour office, a shop's own ground."),
        Field("notes", "Anything else", "text"),
    )),
)  # fmt: skip
