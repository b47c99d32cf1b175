"""Laws of the open sky: no step, cloud only dims, light adds up. Published values are in tests/authorities."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.sky.daylight import TURBIDITY, clear_irradiance, open_sky, overcast_weight, perez_efficacy, twilight_lx
from models.sky.sun import refracted_deg
from models.sky.tables import TWILIGHT_EDGES_DEG, TWILIGHT_LOG10_LX
from models.units import ev100_from_illuminance

HEIGHTS_DEG, OKTAS = st.floats(-90, 90), st.floats(0, 8)
HAZES = st.sampled_from(sorted(TURBIDITY.values()))
FINE_DEG = 1e-4


def sine(height_deg):
    return np.maximum(np.sin(np.radians(height_deg)), 0)


def sun_facing_lx(sky):
    """Light on an upright plane that faces the sun, roughly: what a golden-hour subject gets."""
    return sky.direct_normal_lx + sky.diffuse_lx / 2


def steepest(light_lx):
    """Most stops a degree between neighbours FINE_DEG apart."""
    return np.abs(np.diff(np.log2(light_lx))).max() / FINE_DEG


@pytest.mark.parametrize("oktas", [0.0, 3.0, 8.0])
@pytest.mark.parametrize("turbidity", sorted(TURBIDITY.values()))
def test_no_step_from_twilight_to_day(turbidity, oktas):
    """Steps of 0.0001 degree from -20 to 20. Dusk dims by 1.7 stops a degree at most; towards the sun it may be 10,
    where a bright disc goes under in clean air. A step of a thousandth of a stop would show."""
    heights_deg = np.arange(-20, 20, FINE_DEG)
    sky = open_sky(heights_deg, oktas, turbidity)
    assert steepest(sky.global_lx) < 2.0
    assert steepest(sky.diffuse_lx) < 2.0
    assert steepest(sun_facing_lx(sky)) < 11.0


@pytest.mark.parametrize("turbidity", sorted(TURBIDITY.values()))
def test_no_step_of_the_direct_sun(turbidity):
    """In lux, against the brightest light within a degree: fading in from nothing at the horizon has no stops."""
    heights_deg = np.arange(-2, 20, FINE_DEG)
    direct_lx = open_sky(heights_deg, turbidity=turbidity).direct_normal_lx
    steps_lx = np.abs(np.diff(direct_lx))
    scale_lx = np.interp(heights_deg[1:] + 1, heights_deg, direct_lx)
    assert (steps_lx <= 3.0 * FINE_DEG * np.maximum(scale_lx, 1.0)).all()


def test_a_step_would_be_seen():
    """The published bins themselves, unjoined, fail the same measure."""
    heights_deg = np.arange(-20, 20, FINE_DEG)
    rows = TWILIGHT_LOG10_LX[np.searchsorted(TWILIGHT_EDGES_DEG, heights_deg, side="right")]
    log10_lx = sum(rows[:, power] * (heights_deg / 90) ** power for power in range(4))
    assert steepest(10**log10_lx) > 11.0


@pytest.mark.parametrize("turbidity", sorted(TURBIDITY.values()))
def test_a_higher_sun_is_never_darker(turbidity):
    sky = open_sky(np.arange(-30, 90, 0.01), turbidity=turbidity)
    assert np.diff(sky.global_lx).min() >= 0
    assert np.diff(sky.direct_normal_lx).min() >= -1e-9


@pytest.mark.parametrize("turbidity", sorted(TURBIDITY.values()))
def test_direct_sun_survives_down_to_the_horizon(turbidity):
    sky = open_sky(np.linspace(0.0, 5.0, 101), turbidity=turbidity)
    assert (sky.direct_normal_lx > 0).all()
    assert open_sky(-0.833, turbidity=turbidity).direct_normal_lx == 0
    assert open_sky(-5.0, turbidity=turbidity).direct_normal_lx == 0


def test_golden_hour_keeps_its_sun():
    """A face towards a sun 4 degrees up gets more from the sun than from the whole sky, in town air."""
    sky = open_sky(4.0)
    assert sky.direct_normal_lx > sky.diffuse_lx


@given(HEIGHTS_DEG, OKTAS, st.floats(1, 10))
def test_light_adds_up_and_is_never_negative(height_deg, oktas, turbidity):
    sky = open_sky(height_deg, oktas, turbidity)
    assert sky.diffuse_lx > 0
    assert sky.direct_normal_lx >= 0
    assert sky.global_lx == pytest.approx(sky.diffuse_lx + sky.direct_normal_lx * sine(height_deg))


@given(HEIGHTS_DEG, OKTAS, OKTAS, HAZES)
def test_more_cloud_never_brightens(height_deg, some, other, turbidity):
    fewer, more = (open_sky(height_deg, oktas, turbidity) for oktas in sorted((some, other)))
    assert more.global_lx <= fewer.global_lx
    assert more.direct_normal_lx <= fewer.direct_normal_lx


@pytest.mark.parametrize("oktas", range(9))
def test_kasten_and_czeplak_s_global_values(oktas):
    """G(N) / G(0) = 1 - 0.75 (N/8)^3.4; Kasten & Czeplak, Solar Energy 24:177-189, 1980. Exact: it is the formula."""
    printed = (1.0, 0.999, 0.993, 0.973, 0.929, 0.848, 0.718, 0.524, 0.25)[oktas]
    assert open_sky(40.0, oktas).global_lx / open_sky(40.0).global_lx == pytest.approx(printed, abs=0.001)


@given(HEIGHTS_DEG, HAZES)
def test_no_cloud_is_the_clear_sky_and_full_cloud_has_no_sun(height_deg, turbidity):
    clear, overcast = open_sky(height_deg, turbidity=turbidity), open_sky(height_deg, 8, turbidity)
    assert open_sky(height_deg, 0, turbidity) == clear
    assert overcast.direct_normal_lx == 0
    assert overcast.diffuse_lx == overcast.global_lx
    assert overcast.global_lx == pytest.approx(clear.global_lx / 4)


def test_diffuse_share_under_cloud():
    """f + (1 - f)(N/8)^2 with the clear sky's own f."""
    clear, cloudy = open_sky(35.0), open_sky(35.0, 5)
    own = clear.diffuse_lx / clear.global_lx
    assert cloudy.diffuse_lx / cloudy.global_lx == pytest.approx(own + (1 - own) * (5 / 8) ** 2)
    assert overcast_weight(4) == 0.25


@given(st.floats(1, 60))
def test_haze_takes_sun_and_gives_sky(height_deg):
    clean, hazy = open_sky(height_deg, turbidity=2.0), open_sky(height_deg, turbidity=5.0)
    assert hazy.direct_normal_lx < clean.direct_normal_lx
    assert hazy.diffuse_lx > clean.diffuse_lx


def test_january_sun_is_nearer():
    """7 % more irradiance than in July (perihelion and aphelion: 1.033 to 0.967)."""
    january, july = open_sky(30.0, day_of_year=3), open_sky(30.0, day_of_year=185)
    assert january.global_lx / july.global_lx == pytest.approx(1.033 / 0.967, abs=0.002)


@pytest.mark.parametrize("turbidity", sorted(TURBIDITY.values()))
def test_joining_the_bins_of_clearness_changes_little(turbidity):
    """Perez's bins step by up to 0.3 stop where they meet in haze; the joined curve stays within that."""
    heights_deg = np.arange(10.0, 90.0, 0.1)
    irradiance = clear_irradiance(heights_deg, turbidity)
    of_global, of_direct, _ = perez_efficacy(irradiance, 90 - refracted_deg(heights_deg))
    sky = open_sky(heights_deg, turbidity=turbidity)
    assert np.abs(np.log2(sky.global_lx / (irradiance.global_w_m2 * of_global))).max() < 0.05
    assert np.abs(np.log2(sky.direct_normal_lx / (irradiance.direct_normal_w_m2 * of_direct))).max() < 0.2


def test_shapes_are_kept():
    grid_deg = np.linspace(-30, 60, 12).reshape(3, 4)
    sky = open_sky(grid_deg, oktas=np.full((3, 4), 2.0), day_of_year=np.full((3, 4), 100.0))
    assert sky.global_lx.shape == sky.diffuse_lx.shape == sky.direct_normal_lx.shape == (3, 4)
    one = open_sky(float(grid_deg[1, 2]), oktas=2.0, day_of_year=100.0)
    assert one.global_lx == pytest.approx(sky.global_lx[1, 2])
    assert f"{one.global_lx:.0f} lx" == f"{sky.global_lx[1, 2]:.0f} lx"
    assert open_sky(np.array([])).global_lx.shape == (0,)


def test_starlight_is_the_end():
    assert twilight_lx(-18.0) == twilight_lx(-90.0)
    assert ev100_from_illuminance(float(open_sky(-90.0).global_lx)) > -12


@pytest.mark.parametrize("oktas", [-1, 8.5, float("nan"), np.array([0, 9])])
def test_cloud_is_given_in_oktas(oktas):
    with pytest.raises(ValueError, match="oktas"):
        open_sky(30.0, oktas)


@pytest.mark.parametrize("turbidity", [0.0, -1.0, float("nan")])
def test_air_cannot_be_clearer_than_clean_and_dry(turbidity):
    with pytest.raises(ValueError, match="turbidity"):
        open_sky(30.0, turbidity=turbidity)
