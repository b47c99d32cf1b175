"""A station: a setup with its model at one exact place, the room it takes and the hands it needs."""

from __future__ import annotations

from dataclasses import dataclass, replace

from models.problems import InputProblem
from models.street.spot import trimmed
from models.workshop.checks import number_of, point, whole, within

MOST_STATIONS = 8
LONGEST_CALL, LONGEST_LESSON = 12, 200
MOST_HANDS = 8
RANGES: dict[str, tuple[float, float, str]] = {
    "looking_deg": (0.0, 360.0, "degrees"),
    "depth_m": (0.1, 30.0, "metres"),
    "width_m": (0.1, 100.0, "metres"),
    "pose_s": (0.0, 600.0, "seconds"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StationDraft:
    """name: short, as it is called out, like "A". setup_id, model_id: numbers of a kept setup and person, None for not
    chosen yet. place: latitude and longitude, None at the spot's own point. looking_deg: the camera's bearing, None as
    the spot has it. depth_m, width_m: taken from the wall, and along it. holders: None for one each held light of its
    setup. pose_s: seconds a pose takes, None as the workshop has it. lesson: what is learnt here, in one line.
    """

    workshop_id: int
    name: str
    setup_id: int | None = None
    model_id: int | None = None
    place: tuple[float, float] | None = None
    looking_deg: float | None = None
    depth_m: float | None = None
    width_m: float | None = None
    holders: int | None = None
    watchers: int = 1
    pose_s: float | None = None
    lesson: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station(StationDraft):
    """A station as kept; hand `version` back with a change."""

    id: int
    version: int


def checked_station(draft: StationDraft) -> StationDraft:
    """The draft with its texts trimmed. Raises InputProblem naming the field."""
    number_of("workshop_id", draft.workshop_id)
    name = " ".join(trimmed("name", draft.name, LONGEST_CALL).split())
    if not name:
        raise InputProblem("name", "give the station a letter, or what it is called out as")
    for field in ("setup_id", "model_id"):
        if getattr(draft, field) is not None:
            number_of(field, getattr(draft, field))
    if draft.place is not None:
        point("place", draft.place)
    for field, (low, high, unit) in RANGES.items():
        if getattr(draft, field) is not None:
            within(field, getattr(draft, field), low, high, unit)
    if draft.holders is not None:
        whole("holders", draft.holders, 0, MOST_HANDS, "people")
    whole("watchers", draft.watchers, 0, MOST_HANDS, "people")
    looking = None if draft.looking_deg is None else draft.looking_deg % 360
    lesson = " ".join(trimmed("lesson", draft.lesson, LONGEST_LESSON).split())
    return replace(draft, name=name, looking_deg=looking, lesson=lesson, notes=trimmed("notes", draft.notes))
