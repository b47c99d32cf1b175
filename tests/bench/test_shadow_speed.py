"""Shadows of 1,000 buildings at one instant: against a general-purpose building-shadow library, and joined.

The library gets an environment of its own, outside this tree, and a process of its own:

    python3 -m venv /tmp/shadow-peer && /tmp/shadow-peer/bin/pip install pybdshadow==0.3.5
    KERBSTAND_SHADOW_PEER=/tmp/shadow-peer/bin/python pytest -m bench -s tests/bench/test_shadow_speed.py
"""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import numpy as np
import pytest

from models.street.plane import LocalPlane
from models.street.scene import Building
from models.street.shadows import shadows
from tests.bench.timing import best_of
from tests.models.street.towns import box_town, star_town

PEER = os.environ.get("KERBSTAND_SHADOW_PEER")
PLANE = LocalPlane(52.53, 5.23)
COUNT = 1000
TIMES_FASTER = 10
JOINED_S = 0.2
SAME_AREA = 0.01


def plain_stars(seed: int) -> list[Building]:
    """Outlines of twelve corners without courtyards, which the peer leaves out."""
    return [Building(b.rings[:1], b.top_m) for b in star_town(seed, COUNT)]


def by_peer(town: list[Building], instant: str, where: Path) -> dict[str, float]:
    outlines = []
    for building in town:
        latitudes, longitudes = PLANE.to_degrees(*np.array(building.rings[0]).T)
        outlines.append(np.stack([longitudes, latitudes], axis=1).tolist())
    task = {"instant": instant, "outlines": outlines, "tops_m": [b.top_m for b in town]}
    where.write_text(json.dumps(task | {"metres_per_degree": PLANE.metres_per_degree}))
    script = Path(__file__).with_name("shadow_peer.py")
    run = subprocess.run([str(PEER), str(script), str(where)], capture_output=True, text=True, timeout=300, check=True)  # noqa: S603  our own script
    answer: dict[str, float] = json.loads(run.stdout.splitlines()[-1])
    return answer


@pytest.mark.bench
@pytest.mark.skipif(not PEER, reason="KERBSTAND_SHADOW_PEER names no python that has the peer (see this file's top)")
@pytest.mark.parametrize("instant", ["2026-07-01T08:30:00", "2026-07-01T17:30:00"])
@pytest.mark.parametrize("shape", ["boxes", "twelve corners"])
def test_unjoined_against_the_peer(shape: str, instant: str, tmp_path: Path) -> None:
    town = box_town(1, COUNT) if shape == "boxes" else plain_stars(1)
    peer = by_peer(town, instant, tmp_path / "town.json")
    sun = peer["elevation_deg"], peer["azimuth_deg"]
    ours = best_of(lambda: shadows(town, *sun, joined=False))
    area = shadows(town, *sun).area
    print(f"\nshadows of 1,000 {shape}, sun {sun[0]:.1f} degrees high, unjoined: {ours * 1000:.1f} ms, ", end="")
    print(f"peer {peer['seconds'] * 1000:.0f} ms, ratio {peer['seconds'] / ours:.0f}; ", end="")
    print(f"area {area:.0f} m2, peer {peer['area_m2']:.0f} m2 ({area / peer['area_m2'] - 1:+.2%})")
    assert peer["seconds"] / ours >= TIMES_FASTER
    assert area == pytest.approx(peer["area_m2"], rel=SAME_AREA)


@pytest.mark.bench
@pytest.mark.parametrize("elevation_deg", [8.0, 30.0, 60.0])
@pytest.mark.parametrize(("shape", "corners"), [("boxes", 4), ("twelve corners", 12), ("twenty-four corners", 24)])
def test_joined(shape: str, corners: int, elevation_deg: float) -> None:
    """Half of the houses with many corners have a courtyard of seven."""
    town = box_town(2, COUNT) if shape == "boxes" else star_town(2, COUNT, corners=corners)
    seconds = best_of(lambda: shadows(town, elevation_deg, 140.0))
    print(f"\nshadows of 1,000 {shape}, sun {elevation_deg:.0f} degrees high, joined: {seconds * 1000:.0f} ms", end="")
    assert seconds < JOINED_S
