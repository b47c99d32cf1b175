"""What a group that stands outdoors looks for nearby, by kind: as a map has it, never a promise that it is open."""

from __future__ import annotations

COMFORTS: dict[str, str] = {
    "toilets": "public toilets",
    "shelter": "a roof against rain",
    "coffee": "a café",
}
