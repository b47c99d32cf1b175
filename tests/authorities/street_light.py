"""Light in streets against a validated renderer, under a given sky.

Source: data/street_light_radiance.json, 24 scenes by Radiance (pyradiance 1.3.1; gensky CIE clear with sun,
or CIE overcast, turbidity 3; rtrace, five ambient bounces; walls and ground without gloss). Status: computed, not
measured; sampling noise about 2 %. They test light transport alone, since the open sky is given. The planes are level
and upright to the four compass points, direct sun included; the backdrop is the mean over solid angle of what a camera
sees past the subject, 20 degrees to each side, 5 below to 25 above the horizontal, but for a degree round the sun.

    python -m tests.authorities.street_light [FILE]

prints root mean square and worst error of any file in that format, and fails beyond the limits.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from models.light.transport import coefficients
from models.sky.daylight import OpenSky
from models.street.scene import Building, Scene, pack_walls
from tests.models.light.instants import light_at

SCENES = Path(__file__).parent / "data" / "street_light_radiance.json"
PLANES = {"up": 8, "north": 0, "east": 2, "south": 4, "west": 6}
LOOKING = {"north": 0, "east": 2, "south": 4, "west": 6}
PLANES_RMS, PLANES_WORST = 0.06, 0.25
BACKDROP_RMS, BACKDROP_WORST = 0.15, 0.5
"""Limits in stops, as asked of this model; the renderer's own noise is 0.03."""


@dataclass(frozen=True)
class Errors:
    """Model over renderer in stops: (scenes, 5) planes and (scenes with a backdrop, 4)."""

    scenes: tuple[str, ...]
    planes: np.ndarray
    backdrop_scenes: tuple[str, ...]
    backdrop: np.ndarray

    @property
    def within_limits(self) -> bool:
        return (
            rms(self.planes) <= PLANES_RMS
            and worst(self.planes) <= PLANES_WORST
            and rms(self.backdrop) <= BACKDROP_RMS
            and worst(self.backdrop) <= BACKDROP_WORST
        )


def compare(rows: list[dict[str, Any]]) -> Errors:
    """Every scene through the code that the pages use, at the resolution they use."""
    planes, backdrop, with_backdrop = [], [], []
    for row in rows:
        light = _light(row)
        expected = row["illuminance_lx"]
        planes.append([np.log2(light.illuminance_lx[k] / expected[name]) for name, k in PLANES.items()])
        seen = row.get("backdrop_luminance_cd_m2")
        if seen:
            backdrop.append([np.log2(light.backdrop_cd_m2[k] / seen[name]) for name, k in LOOKING.items()])
            with_backdrop.append(row["id"])
    names = tuple(row["id"] for row in rows)
    return Errors(names, np.array(planes), tuple(with_backdrop), np.array(backdrop).reshape(-1, len(LOOKING)))


def rms(errors: np.ndarray) -> float:
    return float(np.sqrt(np.mean(errors**2))) if errors.size else 0.0


def worst(errors: np.ndarray) -> float:
    return float(np.abs(errors).max()) if errors.size else 0.0


def main(path: Path) -> int:
    """Prints the errors of a file; 0 within the limits, 1 beyond them."""
    errors = compare(json.loads(path.read_text()))
    limits = (PLANES_RMS, PLANES_WORST), (BACKDROP_RMS, BACKDROP_WORST)
    parts = (("planes", errors.scenes, errors.planes), ("backdrop", errors.backdrop_scenes, errors.backdrop))
    for (what, scenes, found), (most_rms, most) in zip(parts, limits, strict=True):
        if not found.size:
            print(f"{what}: no scene in {path.name} gives one")
            continue
        where = scenes[int(np.abs(found).max(axis=1).argmax())]
        print(
            f"{what}: {len(scenes)} scenes, RMS {rms(found):.3f} stop (limit {most_rms}), "
            f"worst {worst(found):.3f} (limit {most}) in {where}, mean {found.mean():+.3f}"
        )
    return 0 if errors.within_limits else 1


def _light(row: dict[str, Any]) -> Any:
    east, north = row["subject_east_m"], row["subject_north_m"]
    buildings = [
        Building((tuple((x - east, y - north) for x, y in building["ring"]),), building["height_m"])
        for building in row["buildings"]
    ]
    scene = Scene(
        pack_walls(buildings), row["wall_reflectance"], row["ground_reflectance"], eye_m=row["subject_height_m"]
    )
    diffuse, direct = row["diffuse_horizontal_lx"], row["direct_normal_lx"]
    level = direct * np.sin(np.radians(row["sun_elevation_deg"]))
    sky = OpenSky(*(np.array([float(lux)]) for lux in (diffuse + level, diffuse, direct)))
    oktas = {"clear": 0, "overcast": 8}[row["sky"]]
    return light_at(coefficients(scene), row["sun_elevation_deg"], row["sun_azimuth_deg"], sky, oktas)


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else SCENES))
