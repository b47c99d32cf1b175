"""Open sky against published daylight: twilight cubic, Circular 171, AMS Glossary, IES 1984, Perez 1990, Krochmann.

Tolerances, from the reference beside each row: 1 % against the same formula; between different clear-sky models 0.3 EV
by day and 0.5 EV in twilight, because turbidity alone moves the light by as much. The town's turbidity is used.
"""

from __future__ import annotations

import numpy as np
import pytest

from models.sky.daylight import Irradiance, open_sky, perez_efficacy, twilight_lx
from models.sky.sun import refracted_deg
from tests.authorities.published import rows

ROWS = rows("daylight_illuminance.csv")
CUBIC = [row for row in ROWS.values() if row.source.startswith("Cubic fit")]
BY_DAY_EV, IN_TWILIGHT_EV = 0.3, 0.5


def stops_apart(a: float, b: float) -> float:
    return abs(float(np.log2(a / b)))


@pytest.mark.parametrize("row", CUBIC, ids=lambda row: row.id)
def test_the_twilight_cubic_itself(row):
    assert twilight_lx(row.number("sun_centre_alt_deg")) == pytest.approx(float(row.value), rel=0.01)


@pytest.mark.parametrize("row", CUBIC, ids=lambda row: row.id)
def test_global_light_at_all_sun_heights(row):
    height_deg = row.number("sun_centre_alt_deg")
    allowed_ev = BY_DAY_EV if height_deg > 5 else IN_TWILIGHT_EV
    assert stops_apart(open_sky(height_deg).global_lx, float(row.value)) <= allowed_ev


def test_below_five_degrees_the_model_is_the_cubic():
    for row in CUBIC:
        if row.number("sun_centre_alt_deg") <= 5:
            assert open_sky(row.number("sun_centre_alt_deg")).global_lx == pytest.approx(float(row.value), rel=0.01)


@pytest.mark.parametrize("row_id", ["dl-030", "dl-047"])
def test_circular_171_by_day(row_id):
    """Its height is the refracted one; at these two the difference is nothing."""
    row = ROWS[row_id]
    assert stops_apart(open_sky(row.number("sun_apparent_alt_deg")).global_lx, float(row.value)) <= BY_DAY_EV


def test_sunset():
    assert 350 <= open_sky(ROWS["dl-050"].number("sun_centre_alt_deg")).global_lx <= 650


def test_end_of_civil_twilight():
    assert 1.8 <= open_sky(ROWS["dl-051"].number("sun_centre_alt_deg")).global_lx <= 3.8


@pytest.mark.parametrize("height_deg", [-18.0, -30.0, -90.0])
def test_starlight(height_deg):
    least_lx, most_lx = map(float, ROWS["dl-052"].value.split(".."))
    assert least_lx <= open_sky(height_deg).global_lx <= most_lx


@pytest.mark.parametrize("row_id", ["dl-102", "dl-103", "dl-107"])
def test_ies_clear_sky(row_id):
    """Diffuse, direct normal, total; all three within the tolerance between models."""
    row = ROWS[row_id]
    sky = open_sky(row.number("sun_alt_deg"))
    ours = (sky.diffuse_lx, sky.direct_normal_lx, sky.global_lx)
    for our_lx, their_lx in zip(ours, row.value.split(" / "), strict=True):
        assert stops_apart(our_lx, float(their_lx)) <= BY_DAY_EV


def test_ies_partly_cloudy_sky():
    """IES calls 0.4 to 0.7 of cover partly cloudy; 6 oktas of ours, 0.75, is the nearest whole number to its top."""
    row = ROWS["dl-105"]
    sky = open_sky(row.number("sun_alt_deg"), oktas=6)
    ours = (sky.diffuse_lx, sky.direct_normal_lx, sky.global_lx)
    for our_lx, their_lx in zip(ours, row.value.split(" / "), strict=True):
        assert stops_apart(our_lx, float(their_lx)) <= BY_DAY_EV


@pytest.mark.parametrize("row_id", ["dl-086", "dl-088", "dl-089"])
def test_overcast(row_id):
    """0.5 EV: Kasten & Czeplak's quarter of the clear light is the mean of measured skies of 8 oktas; Krochmann's
    formula is one standard overcast sky. They are two models and lie up to half a stop apart at 10 degrees."""
    row = ROWS[row_id]
    assert stops_apart(open_sky(row.number("sun_alt_deg"), oktas=8).global_lx, float(row.value)) <= 0.5


def perez_cases():
    for number in ("060", "061", "062", "065"):
        for place, part in enumerate("abc"):
            if f"dl-{number}{part}" in ROWS:
                yield pytest.param(ROWS[f"dl-{number}{part}"], place, id=f"dl-{number}{part}")


@pytest.mark.parametrize(("row", "place"), list(perez_cases()))
def test_perez_efficacy(row, place):
    """0.5 %, the rounding of the inputs. Global, direct normal, diffuse."""
    direct, diffuse = np.array(row.number("dni")), np.array(row.number("dhi"))
    whole = direct * np.sin(np.radians(row.number("sun_alt_deg"))) + diffuse
    irradiance = Irradiance(whole, direct, diffuse, np.array(row.number("airmass")))
    efficacy = perez_efficacy(irradiance, 90 - row.number("sun_alt_deg"), dew_point_c=row.number("dew_point_C"))
    part = (whole, direct, diffuse)[place]
    assert efficacy[place] * part == pytest.approx(float(row.value), rel=0.005)


GUIDE = rows("daylight_guide.csv")
HEAVY_OVERCAST_EV = 12.0
"""Typical scene, heavy overcast; same table (ANSI PH2.7), from memory."""


def ev100(illuminance_lx: float) -> float:
    """C = 250."""
    return float(np.log2(illuminance_lx / 2.5))


def facing_the_sun_lx(height_deg: float) -> float:
    """Plane square to a clear sun, as a meter held before a front-lit subject: sun, its part of an even sky, and sunlit
    ground of reflectance 0.2."""
    sky, sine = open_sky(height_deg), np.sin(np.radians(height_deg))
    return float(sky.direct_normal_lx + sky.diffuse_lx * (1 + sine) / 2 + 0.2 * sky.global_lx * (1 - sine) / 2)


def assert_in_guide(found_ev: float, stated_ev: float) -> None:
    """0.5 EV outside the stated value: the guide is in whole EV."""
    assert abs(found_ev - stated_ev) <= 0.5


@pytest.mark.parametrize("height_deg", [20, 30, 45, 60, 75, 90])
def test_guide_full_sun(height_deg):
    """The guide means front light, from about 2 h after sunrise to 2 h before sunset."""
    assert_in_guide(ev100(facing_the_sun_lx(height_deg)), float(GUIDE["ex-002"].value))


@pytest.mark.parametrize(("height_deg", "oktas"), [(30, 6), (40, 6), (40, 7), (55, 7)])
def test_guide_hazy_sun(height_deg, oktas):
    """Sun through a veil, shadows soft: 6 to 7 oktas, on a level plane."""
    assert_in_guide(ev100(open_sky(height_deg, oktas).global_lx), float(GUIDE["ex-003"].value))


@pytest.mark.parametrize("height_deg", [35, 45, 60, 75, 90])
def test_guide_cloudy_bright(height_deg):
    """No shadows: 8 oktas with a high sun above them, level plane."""
    assert_in_guide(ev100(open_sky(height_deg, 8).global_lx), float(GUIDE["ex-004"].value))


@pytest.mark.parametrize("height_deg", [20, 25, 30])
def test_guide_heavy_overcast(height_deg):
    """8 oktas with a sun of the temperate winter's noon."""
    assert_in_guide(ev100(open_sky(height_deg, 8).global_lx), HEAVY_OVERCAST_EV)


@pytest.mark.parametrize("height_deg", [20, 30, 45, 60])
def test_guide_open_shade(height_deg):
    """Level plane under the whole clear sky, only the sun hidden: the brightest that open shade can be, since whatever
    casts it hides some sky too. Above 70 degrees it comes to 12.51, a hair outside."""
    assert_in_guide(ev100(open_sky(height_deg).diffuse_lx), float(GUIDE["ex-006"].value))


def test_a_subject_in_the_open_at_sunset():
    """EV100 7 to 8, as an incident meter reads; the guide's sunset rows are for pictures of the sky."""
    assert 7 <= ev100(open_sky(-0.833).global_lx) <= 8


def test_heights_are_unrefracted():
    """The cubic wants the true height: taking the seen one would shift sunset by about 0.6 EV."""
    wrong = float(twilight_lx(refracted_deg(-0.833)))
    assert 0.5 < stops_apart(wrong, open_sky(-0.833).global_lx) < 0.8
