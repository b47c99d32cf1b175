"""Clear-sky irradiance against pvlib's Ineichen & Perez with the same air mass formula (Kasten & Young 1989).

2 % is asked; both are one formula, so that all that may differ is the pressure of the air at height: 0.1 %.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from pvlib import atmosphere, clearsky

from models.sky.daylight import SOLAR_W_M2, TURBIDITY, clear_irradiance
from models.sky.sun import refracted_deg

HEIGHTS_DEG = np.arange(0.0, 90.01, 0.25)


@pytest.mark.parametrize("turbidity", [1.0, 2.0, 3.0, 4.0, 5.0, 7.0])
@pytest.mark.parametrize("altitude_m", [0.0, 500.0, 2500.0])
def test_ineichen(turbidity, altitude_m):
    zenith_deg = 90 - refracted_deg(HEIGHTS_DEG)
    relative = atmosphere.get_relative_airmass(zenith_deg, "kastenyoung1989")
    air_mass = atmosphere.get_absolute_airmass(relative, atmosphere.alt2pres(altitude_m))
    theirs = clearsky.ineichen(zenith_deg, air_mass, turbidity, altitude_m, dni_extra=SOLAR_W_M2)
    ours = clear_irradiance(HEIGHTS_DEG, turbidity, altitude_m)
    for our_w_m2, name in (
        (ours.global_w_m2, "ghi"),
        (ours.direct_normal_w_m2, "dni"),
        (ours.diffuse_w_m2, "dhi"),
    ):
        assert our_w_m2 == pytest.approx(theirs[name], rel=0.001, abs=1e-6)
    assert ours.air_mass == pytest.approx(air_mass, rel=0.001)


def test_named_turbidities_occur_in_the_world_map():
    """Monthly Linke turbidities of SoDa (Remund et al. 2003), as stored in pvlib."""
    helsinki, paris, milan = (
        [clearsky_month(latitude, longitude, month) for month in range(1, 13)]
        for latitude, longitude in ((60.17, 24.94), (48.86, 2.35), (45.46, 9.19))
    )
    assert TURBIDITY["clean"] == pytest.approx(min(helsinki), abs=0.2)
    assert TURBIDITY["town"] == pytest.approx(np.mean(paris), abs=0.3)
    assert TURBIDITY["town haze"] == pytest.approx(np.mean(milan), abs=0.3)
    assert TURBIDITY["hot summer haze"] == pytest.approx(max(milan), abs=0.5)


def clearsky_month(latitude_deg, longitude_deg, month):
    instants = pd.DatetimeIndex([f"2026-{month:02d}-15T12:00Z"])
    return float(clearsky.lookup_linke_turbidity(instants, latitude_deg, longitude_deg, interp_turbidity=False).iloc[0])
