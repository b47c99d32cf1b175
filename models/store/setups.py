"""Setups of lights, in order of their titles. Kit is named by its id, spots by their number: both may change."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isfinite

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.light.exposure import START, Settings
from models.light.setup import MOST_LIGHTS, ROLES, Role
from models.light.wanted import Wanted
from models.problems import InputProblem
from models.store.types import AsJson, TupleAsJson, UtcDateTime, metadata
from models.store.versions import Shelf
from models.street.spot import LONGEST_NAME, LONGEST_NOTE, readable

RANGES: dict[str, tuple[float, float, str]] = {
    "distance_m": (0.3, 30.0, "metres"),
    "height_m": (0.0, 10.0, "metres"),
    "axis_deg": (-180.0, 180.0, "degrees"),
    "power": (0.0, 1.0, "of full power"),
    "units": (1, 4, "flashes"),
    "zoom_mm": (10.0, 300.0, "mm"),
    "camera_m": (0.5, 30.0, "metres"),
    "lens_mm": (8.0, 1200.0, "mm"),
    "surroundings_under": (-5.0, 10.0, "stops"),
    "face_under": (-5.0, 10.0, "stops"),
}
MOST_TRIES = 12
USUAL_WANTED = Wanted()


@dataclass(frozen=True, slots=True, kw_only=True)
class LightDraft:
    """One light with its kit by id; "" is none. The measures are those of models.light.setup.Light."""

    role: Role
    flash: str
    units: int = 1
    modifier: str = ""
    grid: str = ""
    gel: str = ""
    battery: str = ""
    stand: str = ""
    zoom_mm: float | None = None
    distance_m: float = 2.0
    height_m: float = 2.0
    axis_deg: float = 0.0
    power: float = 0.5
    held: bool = True


@dataclass(frozen=True, slots=True)
class Try:
    """A spot and local time to look at a setup in. on, at: ISO 8601 day and clock; looking_deg: the camera's."""

    spot_id: int
    on: str
    at: str
    oktas: int
    looking_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupDraft:
    """Lights round one model. camera_m, lens_mm: from the model, and its length on the full frame."""

    title: str
    camera: str
    trigger: str = ""
    settings: Settings = START
    wanted: Wanted = USUAL_WANTED
    surroundings_under: float = 2 / 3
    face_under: float = 2 / 3
    camera_m: float = 3.0
    lens_mm: float = 50.0
    lights: tuple[LightDraft, ...] = ()
    tries: tuple[Try, ...] = ()
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSetup(SetupDraft):
    """A setup as kept."""

    id: int
    version: int


setups = sa.Table(
    "setups",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("title", sa.Text, nullable=False),
    sa.Column("camera", sa.Text, nullable=False),
    sa.Column("trigger", sa.Text, nullable=False),
    sa.Column("settings", AsJson(Settings), nullable=False),
    sa.Column("wanted", AsJson(Wanted), nullable=False),
    sa.Column("surroundings_under", sa.Float, nullable=False),
    sa.Column("face_under", sa.Float, nullable=False),
    sa.Column("camera_m", sa.Float, nullable=False),
    sa.Column("lens_mm", sa.Float, nullable=False),
    sa.Column("lights", TupleAsJson(LightDraft), nullable=False),
    sa.Column("tries", TupleAsJson(Try), nullable=False),
    sa.Column("notes", sa.Text, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sqlite_autoincrement=True,
)


def checked_setup(draft: SetupDraft) -> SetupDraft:
    """The draft with its texts trimmed. Raises InputProblem; a light's field is named light_1_distance_m."""
    tidy = replace(draft, title=_text("title", draft.title, LONGEST_NAME), notes=_text("notes", draft.notes))
    if not tidy.title:
        raise InputProblem("title", "give the setup a title")
    if not tidy.camera:
        raise InputProblem("camera", "choose a camera")
    if not 1 <= len(tidy.lights) <= MOST_LIGHTS:
        raise InputProblem("light_1_role", f"give one to {MOST_LIGHTS} lights")
    if len(tidy.tries) > MOST_TRIES:
        raise InputProblem("tries", f"at most {MOST_TRIES} spots and hours are kept with a setup")
    _in_range(tidy, "")
    for number, light in enumerate(tidy.lights, start=1):
        if light.role not in ROLES:
            raise InputProblem(f"light_{number}_role", f"is one of {', '.join(ROLES)}")
        if not light.flash:
            raise InputProblem(f"light_{number}_flash", "choose a flash")
        _in_range(light, f"light_{number}_")
    return tidy


shelf = Shelf[SetupDraft, KeptSetup](what="setup", table=setups, kept=KeptSetup, check=checked_setup)


def list_setups(s: Session) -> tuple[KeptSetup, ...]:
    return shelf.list(s, order_by=(sa.func.lower(setups.c.title), setups.c.id))


def _in_range(draft: SetupDraft | LightDraft, prefix: str) -> None:
    for field, (low, high, unit) in RANGES.items():
        value = getattr(draft, field, None)
        if value is not None and not (isfinite(value) and low <= value <= high):
            raise InputProblem(f"{prefix}{field}", f"{value:g} is out of reach: give {low:g} to {high:g} {unit}")


def _text(field: str, text: str, most: int = LONGEST_NOTE) -> str:
    tidy = readable(field, text).strip()
    if len(tidy) > most:
        raise InputProblem(field, f"is too long: {most} letters at most")
    return tidy
