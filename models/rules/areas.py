"""Rule areas: who controls which ground. Overlaps are normal; all that touch a place apply there."""

from __future__ import annotations

from dataclasses import dataclass

Ring = tuple[tuple[float, float], ...]
"""Longitude and latitude in degrees, the last point equal to the first (RFC 7946)."""
Shape = tuple[tuple[Ring, ...], ...]
"""Polygons: each an outer ring and its holes."""

KINDS: dict[str, str] = {
    "public_street": "public street",
    "park": "park",
    "transit": "transit",
    "private_open": "privately owned and open to the public",
    "private_consent": "private, with consent",
    "car_park": "car park",
    "waterfront": "waterfront",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaDraft:
    """An area as typed or read. no_passing: it controls even walking through with kit. Empty text: not noted.

    holidays: whose holidays its office keeps, as a country or country-part code of ISO 3166 ("NL", "DE-BE"); empty for
    those of the settings.
    """

    name: str
    kind: str
    authority: str
    shape: Shape
    contact: str = ""
    web: str = ""
    no_passing: bool = False
    holidays: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area(AreaDraft):
    """An area as kept; hand `version` back with a change."""

    id: int
    version: int
