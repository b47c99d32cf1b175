"""The plan's pavement: what the setup takes and leaves, worked out by hand for a wall to the camera's left."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from models.exchange.kit import read_kit
from models.planning.kit import STARTER
from models.planning.setups import plan
from models.planning.setups.kit import WholeKit, setup_of
from models.planning.setups.lit import Lit
from models.store.setups import LightDraft, SetupDraft
from models.store.spots import Spot

WHOLE = WholeKit(read_kit(STARTER), frozenset())
SIDE = LightDraft(role="key", flash="small", axis_deg=-90.0, distance_m=2.0, height_m=1.5)
DRAFT = SetupDraft(title="Side", camera="main-camera", camera_m=3.0, lights=(SIDE,))


def at_wall(monkeypatch: pytest.MonkeyPatch, width_m: float | None, wall_deg: float | None = 270.0) -> Lit:
    """The camera looks north; the wall lies to the west."""
    monkeypatch.setattr(plan, "_wall_deg", lambda lit: wall_deg)
    spot = Spot(
        id=1, version=1, name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="Europe/Amsterdam",
        pavement_width_m=width_m, deleted_at=None,
    )  # fmt: skip
    return Lit(spot=spot, looking_deg=0.0)


def test_the_setup_keeps_to_the_wall_and_leaves_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """The key's holder stands 2.0 + 0.45 m towards the wall, 0.22 m of body beyond it; on the other side only bodies on
    the camera's axis, 0.22 m. So 2.89 m deep; of 4.5 m and 0.45 m at the kerb that leaves 1.16 m."""
    found = plan.pavement_at(DRAFT, setup_of(DRAFT, WHOLE), at_wall(monkeypatch, 4.5))
    assert found is not None
    assert found.wall_m == pytest.approx(2.67)
    assert found.kerb_m == pytest.approx(1.83)
    assert found.taken_m == pytest.approx(0.22)
    assert found.pavement.depth_m == pytest.approx(2.89)
    assert found.pavement.left_m == pytest.approx(1.16)
    assert found.left_words == "1.16 m left for walkers"


def test_a_narrow_pavement_leaves_nothing_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    found = plan.pavement_at(DRAFT, setup_of(DRAFT, WHOLE), at_wall(monkeypatch, 2.5))
    assert found is not None
    assert found.left_words == "nothing left for walkers"


@pytest.mark.parametrize(("width_m", "wall_deg"), [(None, 270.0), (4.5, None)])
def test_without_its_width_or_any_wall_no_pavement_is_drawn(monkeypatch, width_m, wall_deg) -> None:
    lit = at_wall(monkeypatch, width_m, wall_deg)
    assert plan.pavement_at(DRAFT, setup_of(DRAFT, WHOLE), lit) is None
    assert plan.street_of(DRAFT, setup_of(DRAFT, WHOLE), lit) is None


def test_walkers_go_along_the_wall_and_the_kerb_lies_across(monkeypatch: pytest.MonkeyPatch) -> None:
    street = plan.street_of(DRAFT, setup_of(DRAFT, WHOLE), at_wall(monkeypatch, 4.5))
    assert street is not None
    assert (street.along_deg, street.lane_deg) == (0.0, 90.0)
    assert street.lane_m == pytest.approx(1.83)


@pytest.mark.parametrize(("elevation_deg", "metres"), [(45.0, 1.7), (30.0, 1.7 * sqrt(3)), (60.0, 1.7 / sqrt(3))])
def test_the_shadow_of_somebody_of_1_7_m(elevation_deg: float, metres: float) -> None:
    """Height over the tangent of the sun's height: plane geometry."""
    assert plan.shadow_m(elevation_deg) == pytest.approx(metres)


def test_the_wall_lies_where_the_skyline_stands_highest() -> None:
    heights = np.zeros(720)
    heights[np.abs((np.arange(720) + 0.5) / 2 - 300) < 40] = 50.0
    assert plan.highest_side_deg(heights) == pytest.approx(300, abs=11)  # the middle of the row, within its free play
    assert plan.highest_side_deg(np.zeros(720)) is None
