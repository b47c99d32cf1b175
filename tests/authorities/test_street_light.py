"""Light in streets against a renderer's scenes. Source, status and limits: street_light.py."""

import json

import pytest

from tests.authorities.street_light import (
    BACKDROP_RMS,
    BACKDROP_WORST,
    PLANES_RMS,
    PLANES_WORST,
    SCENES,
    compare,
    main,
    rms,
    worst,
)


@pytest.fixture(scope="module")
def errors():
    return compare(json.loads(SCENES.read_text()))


def test_light_on_five_planes_is_what_the_renderer_finds(errors):
    assert errors.planes.shape == (24, 5)
    assert rms(errors.planes) <= PLANES_RMS
    assert worst(errors.planes) <= PLANES_WORST


def test_what_is_behind_the_subject_is_what_the_renderer_finds(errors):
    assert errors.backdrop.shape == (24, 4)
    assert rms(errors.backdrop) <= BACKDROP_RMS
    assert worst(errors.backdrop) <= BACKDROP_WORST


def test_a_scene_with_a_wrong_wall_fails(tmp_path, capsys):
    """The check can fail: walls twice as bright as the renderer's are beyond the limits."""
    rows = [row | {"wall_reflectance": 2 * row["wall_reflectance"]} for row in json.loads(SCENES.read_text())[:4]]
    changed = tmp_path / "changed.json"
    changed.write_text(json.dumps(rows))
    assert main(changed) == 1
    assert "planes: 4 scenes, RMS" in capsys.readouterr().out
