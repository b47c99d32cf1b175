"""One street scene by the renderer: run by the Python of an environment that has it, with a scene as JSON on stdin.

Prints seconds and the illuminance on the level plane. Five ambient bounces, as in the scenes of tests/authorities, and
enough rays that the answer is out by some 2 %.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pyradiance

HOME = Path(pyradiance.__file__).parent
ENVIRONMENT = {**os.environ, "RAYPATH": f".:{HOME / 'lib'}", "PATH": f"{HOME / 'bin'}:{os.environ['PATH']}"}
LUMENS_PER_WATT = 179.0  # the renderer's own
AMBIENT = ["-ab", "5", "-ad", "2048", "-as", "512", "-aa", "0.1", "-ar", "512", "-lw", "1e-5"]


def run(words, folder, text=""):
    done = subprocess.run(words, cwd=folder, input=text.encode(), env=ENVIRONMENT, capture_output=True, check=True)  # noqa: S603
    return done.stdout


def sky_of(row, folder):
    height, diffuse = row["sun_elevation_deg"], row["diffuse_horizontal_lx"] / LUMENS_PER_WATT
    level = row["direct_normal_lx"] * math.sin(math.radians(height)) / LUMENS_PER_WATT
    kind = ["+s", "-R", str(level)] if row["sky"] == "clear" else ["-c"]
    sky = run(["gensky", "-ang", str(height), str(row["sun_azimuth_deg"] - 180), *kind, "-B", str(diffuse)], folder)
    return sky.decode() + "\nskyfunc glow above 0 0 4 1 1 1 0\nabove source sky 0 0 4 0 0 1 180\n"


def polygon(material, name, points):
    flat = " ".join(f"{x} {y} {z}" for x, y, z in points)
    return f"{material} polygon {name} 0 0 {3 * len(points)} {flat}\n"


def walls_of(row):
    for name, share in (("wall", row["wall_reflectance"]), ("floor", row["ground_reflectance"])):
        yield f"void plastic {name} 0 0 5 {share} {share} {share} 0 0\n"
    yield polygon("floor", "ground", [(x, y, 0) for x, y in ((-750, -750), (750, -750), (750, 750), (-750, 750))])
    for number, building in enumerate(row["buildings"]):
        ring, top = building["ring"], building["height_m"]
        for side, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
            yield polygon("wall", f"w{number}_{side}", [(*a, 0), (*b, 0), (*b, top), (*a, top)])
        yield polygon("wall", f"r{number}", [(*point, top) for point in ring])


def main():
    row = json.load(sys.stdin)
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "scene.rad").write_text(sky_of(row, folder) + "".join(walls_of(row)))
        Path(folder, "scene.oct").write_bytes(run(["oconv", "scene.rad"], folder))
        eye = f"{row['subject_east_m']} {row['subject_north_m']} {row['subject_height_m']}"
        planes = "".join(f"{eye} {normal}\n" for normal in ("0 0 1", "0 1 0", "1 0 0", "0 -1 0", "-1 0 0"))
        answer = run(["rtrace", "-h", "-I", *AMBIENT, "scene.oct"], folder, planes).decode().split()
    print(time.perf_counter() - begun, LUMENS_PER_WATT * float(answer[0]))


if __name__ == "__main__":
    main()
