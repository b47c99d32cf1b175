"""One instant of light on five planes against the renderer's own time for it, in the same run.

Runs where KERBSTAND_RENDERER names the Python of an environment made by
`python3 -m venv peer && peer/bin/pip install pyradiance`; never installed into ours.
"""

from __future__ import annotations

import json
import os
import subprocess
import time

import pytest

from tests.authorities.street_light import SCENES, compare

RENDERER = os.environ.get("KERBSTAND_RENDERER")
SCRIPT = SCENES.parents[2] / "bench" / "renderer_instant.py"


@pytest.mark.bench
@pytest.mark.skipif(not RENDERER, reason="KERBSTAND_RENDERER names no Python that has the renderer")
def test_one_instant_against_the_renderer(capsys):
    row = next(row for row in json.loads(SCENES.read_text()) if row["kind"] == "street" and row["sky"] == "clear")
    runs = []
    for _ in range(5):
        begun = time.perf_counter()
        error = compare([row])
        runs.append(time.perf_counter() - begun)
    asked = [RENDERER, str(SCRIPT)]
    answer = subprocess.run(asked, input=json.dumps(row), capture_output=True, text=True, check=True)  # noqa: S603
    seconds, level_lx = map(float, answer.stdout.split())
    with capsys.disabled():
        print(
            f"\none instant from walls {1000 * min(runs):.0f} ms, renderer {seconds:.1f} s: {seconds / min(runs):.0f} x"
        )
    assert level_lx == pytest.approx(row["illuminance_lx"]["up"], rel=0.1)
    assert abs(error.planes).max() <= 0.25
    assert seconds / min(runs) > 20
