"""A station: a setup with its model at one exact place, the room it takes and the hands it needs."""

from __future__ import annotations

from dataclasses import dataclass


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
