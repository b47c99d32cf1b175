"""Wind chill, heat index, Beaufort force, drag, lightning: row by row of data/safety.csv and data/table_beaufort.csv.

Tolerances: the charts are rounded, 0.5 for wind chill; 1.3 F for the heat index, the stated error of its regression;
forces exact; drag 0.5 %; thunder 3 % (5 s a mile is itself rounded).
"""

from __future__ import annotations

import math
import re

import pytest

from models.street.comfort import (
    CHILL_CALMEST_KM_H,
    CHILL_WARMEST_C,
    HEAT_BANDS_F,
    NO_STANDS_FORCE,
    SHELTER_MIN,
    SHELTER_S,
    SUN_ADDS_F,
    heat,
    heat_index_c,
    shelter_now,
    thunder_distance_m,
    wind_chill_c,
    wind_on_face,
)
from models.street.weather import AIR_KG_M3, BEAUFORT_FROM_M_S, BEAUFORT_NAMES, beaufort, drag_n
from tests.authorities.light_rows import given, rows, table, wanted

BEAUFORT = table("table_beaufort.csv")
PRACTICE = {row["id"]: row for row in table("safety.csv")}
M_S_PER_MPH = 0.44704


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


def fahrenheit(celsius: float | None) -> float:
    assert celsius is not None
    return celsius * 9 / 5 + 32


CHILL_ROWS = rows("safety.csv", "wind chill")


@pytest.mark.parametrize("row", [row for row in CHILL_ROWS if "km_h" in row["inputs"]], ids=lambda row: row["id"])
def test_wind_chill(row):
    found = wind_chill_c(given(row)["T_C"], given(row)["wind_km_h"] / 3.6)
    assert found == pytest.approx(wanted(row)[0], abs=0.5)


@pytest.mark.parametrize("row", [row for row in CHILL_ROWS if "mph" in row["inputs"]], ids=lambda row: row["id"])
def test_wind_chill_of_the_chart_in_fahrenheit(row):
    """0.1 F more than the chart's rounding: the two published formulas are rounded apart."""
    found = wind_chill_c(celsius(given(row)["T_F"]), given(row)["wind_mph"] * M_S_PER_MPH)
    assert fahrenheit(found) == pytest.approx(wanted(row)[0], abs=0.6)


def test_wind_chill_has_a_range():
    assert f"T <= {CHILL_WARMEST_C:.0f} C and V >= {CHILL_CALMEST_KM_H} km/h" in PRACTICE["sa-072"]["note"]
    edge_m_s = CHILL_CALMEST_KM_H / 3.6
    assert wind_chill_c(10.0, edge_m_s) is not None
    assert wind_chill_c(10.01, edge_m_s) is None
    assert wind_chill_c(10.0, edge_m_s - 0.01) is None


@pytest.mark.parametrize("row", rows("safety.csv", "heat index"), ids=lambda row: row["id"])
def test_heat_index(row):
    found = heat_index_c(celsius(given(row)["T_F"]), given(row)["RH"])
    assert fahrenheit(found) == pytest.approx(wanted(row)[0], abs=1.3)


def test_adjustments_of_the_heat_index():
    """Worked by hand from the row of coefficients: 95 F at 10 % is 0.75 F less, 85 F at 90 % 0.2 F more."""
    t, r = 95.0, 10.0
    assert fahrenheit(heat_index_c(celsius(t), r)) == pytest.approx(regression_f(t, r) - 3 / 4, abs=1e-6)
    t, r = 85.0, 90.0
    assert fahrenheit(heat_index_c(celsius(t), r)) == pytest.approx(regression_f(t, r) + 0.5 * 0.4, abs=1e-6)


def regression_f(t: float, r: float) -> float:
    """The row sa-055, its terms read from the file."""
    formula = PRACTICE["sa-055"]["value"].split(";")[0]
    terms = re.findall(r"([+-]?) ?(\d+\.\d+)(T\^2|T)?(R\^2|R)?", formula)
    assert len(terms) == 9
    powers = {"": 1.0, "T": t, "T^2": t * t, "R": r, "R^2": r * r}
    return sum(float(sign + number) * powers[of_t] * powers[of_r] for sign, number, of_t, of_r in terms)


def test_the_terms_are_read_from_the_file():
    assert regression_f(0, 0) == -42.379
    assert regression_f(90, 50) == pytest.approx(94.6, abs=0.1)  # NWS chart: 95


def test_heat_bands():
    assert PRACTICE["sa-056"]["value"] == "caution 80-90; extreme caution 90-103; danger 103-124; extreme danger 125+"
    assert HEAT_BANDS_F == (80, 90, 103, 125)
    assert [heat(celsius(f)) for f in (79, 80, 89, 90, 102, 103, 124, 125)] == [
        *("none", "caution", "caution", "extreme caution", "extreme caution", "danger", "danger", "extreme danger"),
    ]
    assert PRACTICE["sa-057"]["value"] == f"up to {SUN_ADDS_F:.0f} F"
    assert heat(celsius(88), in_sun=True) == "danger"


@pytest.mark.parametrize("row", rows("safety.csv", "Beaufort force"), ids=lambda row: row["id"])
def test_beaufort_force(row):
    assert beaufort(given(row)["wind_m_s"]) == wanted(row)[0]


@pytest.mark.parametrize("row", BEAUFORT, ids=lambda row: row["name"])
def test_just_inside_and_just_outside_each_force(row):
    force, low = int(row["force"]), float(row["min_m_s"])
    assert beaufort(low) == force
    assert BEAUFORT_NAMES[force] == row["name"]
    assert low == 0 or beaufort(math.nextafter(low, 0)) == force - 1
    assert not row["max_m_s"] or beaufort(float(row["max_m_s"])) == force


def test_all_forces_are_here():
    assert [float(row["min_m_s"]) for row in BEAUFORT[1:]] == list(BEAUFORT_FROM_M_S)


@pytest.mark.parametrize("row", rows("safety.csv", "drag on a modifier"), ids=lambda row: row["id"])
def test_drag(row):
    asked = given(row)
    assert asked["rho"] == AIR_KG_M3
    assert drag_n(asked["v"], asked["A"], asked["Cd"]) == pytest.approx(wanted(row)[0], rel=0.005)


def test_an_umbrella_in_the_wind_is_handled_as_common_practice_has_it():
    """Rows sa-021 and sa-022: held from force 4, down at force 5 at the latest, no stands from force 6."""
    assert PRACTICE["sa-021"]["value"].startswith("from Beaufort 4 (5.5 m/s), at the latest Beaufort 5 (8 m/s), gusts")
    assert PRACTICE["sa-022"]["value"] == f"Beaufort {NO_STANDS_FORCE} (10.8 m/s)"
    winds = (5.4, 5.5, 7.9, 8.0, 10.7, 10.8)
    assert [wind_on_face(wind, 0.79).advice for wind in winds] == [
        "weight",
        "hold",
        "hold",
        "down",
        "down",
        "no stands",
    ]


@pytest.mark.parametrize("row", rows("safety.csv", "lightning distance"), ids=lambda row: row["id"])
def test_thunder(row):
    seconds = given(row)["flash_to_thunder_s"]
    km = float(row["value"].split("/")[1].split("km")[0])
    assert thunder_distance_m(seconds) == pytest.approx(km * 1000, rel=0.03)
    assert shelter_now(seconds) == row["value"].endswith("shelter")


def test_the_30_30_rule():
    assert PRACTICE["sa-080"]["value"] == f"{SHELTER_S:.0f} s ; {SHELTER_MIN:.0f} min"
    assert not shelter_now(SHELTER_S + 0.1)
