"""Clear widths and walkway levels: PROWAG R302, ADA 403.5.1, Inclusive Mobility 4.2, Highway Capacity Manual 2000
Exhibit 18-3 (rows of data/pedestrian.csv, table data/table_walkway_los.csv). Exact, just inside and outside each bound.
"""

from __future__ import annotations

import math
import re

import pytest

from models.street.clearance import PUBLISHED, Clearance, Pavement, clearance
from models.street.crowding import (
    BODY_M,
    FLOW_BOUNDS,
    LEVELS,
    SPACE_BOUNDS_M2,
    crowding,
    flow_of,
    level_by_flow,
    level_by_space,
)
from models.units import METRES_PER_FOOT
from tests.authorities.light_rows import given, rows, table

ROWS = {row["id"]: row for row in table("pedestrian.csv")}
HCM2000 = [row for row in table("table_walkway_los.csv") if row["scale"] == "HCM2000"]
HCM2010 = [row for row in table("table_walkway_los.csv") if row["scale"] == "HCM2010"]
UK_NORMAL, UK_ABSOLUTE, PROWAG, ADA = PUBLISHED


def left(width_m: float, length_m: float = 10.0) -> Clearance:
    """A pavement with exactly so much left beside a station so long."""
    return clearance(Pavement(width_m + 1, 1, length_m=length_m, kerb_m=0))


def numbers(text: str) -> list[float]:
    return [float(found) for found in re.findall(r"\d+(?:\.\d+)?", text)]


def upper_flow(row: dict[str, str]) -> float:
    """The bound of A stands in the table's lower column: "<=16"."""
    return float((row["flow_upper"] or row["flow_lower"]).lstrip("<="))


def test_the_minima_are_the_published_ones():
    assert (UK_NORMAL.width_m, UK_ABSOLUTE.width_m) == (float(ROWS["pe-004"]["value"]), float(ROWS["pe-005"]["value"]))
    assert UK_ABSOLUTE.short_width_m == float(ROWS["pe-006"]["value"])
    assert "at most 6 m long" in ROWS["pe-006"]["quantity"]
    assert UK_ABSOLUTE.short_longest_m == 6
    assert ROWS["pe-001"]["value"] == f"48 in ({PROWAG.width_m * 1000:.0f} mm)"
    assert ROWS["pe-002"]["value"] == f"36 in ({ADA.width_m * 1000:.0f} mm)"
    assert numbers(ROWS["pe-002"]["note"]) == [32, 815, 24, 610]
    assert (ADA.short_width_m, ADA.short_longest_m) == (0.815, 0.610)


@pytest.mark.parametrize("minimum", PUBLISHED, ids=lambda minimum: minimum.name)
def test_just_inside_and_just_outside_each_minimum(minimum):
    at, under = left(minimum.width_m), left(minimum.width_m - 0.001)
    assert minimum not in [verdict.minimum for verdict in at.missed]
    assert [verdict.short_m for verdict in under.missed if verdict.minimum == minimum] == [0.001]


@pytest.mark.parametrize("minimum", [UK_ABSOLUTE, ADA], ids=lambda minimum: minimum.name)
def test_a_short_station_eases_what_is_asked_for(minimum):
    def eased(width_m: float, length_m: float) -> bool:
        (verdict,) = (v for v in left(width_m, length_m).verdicts if v.minimum == minimum)
        return verdict.eased

    assert minimum.short_width_m is not None
    assert eased(minimum.short_width_m, minimum.short_longest_m)
    assert not eased(minimum.short_width_m - 0.001, minimum.short_longest_m)
    assert not eased(minimum.short_width_m, minimum.short_longest_m + 0.01)
    assert not eased(minimum.width_m, 0.1), "what is met needs no easing"


def test_verdict_at_1_60_m():
    assert ROWS["pe-010"]["value"] == "PROWAG ok; ADA ok; UK below 2.0 normal, above 1.5 absolute"
    assert [verdict.minimum for verdict in left(1.60).missed] == [UK_NORMAL]


def test_verdict_at_1_25_m_for_4_m():
    assert ROWS["pe-011"]["value"] == "PROWAG ok (>=1.22); ADA ok; UK only as an obstacle pinch (<=6 m)"
    missed = left(1.25, 4).missed
    assert [verdict.minimum for verdict in missed] == [UK_NORMAL, UK_ABSOLUTE]
    assert missed[1].eased


def test_verdict_at_2_10_m():
    assert ROWS["pe-014"]["value"] == "PROWAG ok; ADA ok; UK ok"
    assert left(2.10).missed == ()


@pytest.mark.parametrize("row", rows("pedestrian.csv", "walkway level of service from flow"), ids=lambda row: row["id"])
def test_level_from_flow(row):
    assert level_by_flow(given(row)["unit_flow_ped_per_min_per_m"]) == row["value"]


@pytest.mark.parametrize("row", rows("pedestrian.csv", "walkway level of service from space"), ids=lambda r: r["id"])
def test_level_from_space(row):
    assert level_by_space(given(row)["space_m2_per_ped"]) == row["value"]


@pytest.mark.parametrize("row", HCM2000[:5], ids=lambda row: row["los"])
def test_just_inside_and_just_outside_each_level(row):
    worse = LEVELS[LEVELS.index(row["los"]) + 1]
    flow, (space,) = upper_flow(row), numbers(row["space_lower"])
    assert (level_by_flow(flow), level_by_flow(math.nextafter(flow, math.inf))) == (row["los"], worse)
    assert (level_by_space(math.nextafter(space, math.inf)), level_by_space(space)) == (row["los"], worse)


def test_the_bounds_are_those_of_the_table_and_near_those_of_the_later_edition():
    """2010 has them in feet, rounded to whole people or square feet: 7 % apart at most, E's flow 75 against 75.5."""
    assert tuple(upper_flow(row) for row in HCM2000[:5]) == FLOW_BOUNDS
    assert tuple(float(row["space_lower"].lstrip(">")) for row in HCM2000[:5]) == SPACE_BOUNDS_M2
    later = [upper_flow(row) / METRES_PER_FOOT for row in HCM2010[:5]]
    assert later == pytest.approx(FLOW_BOUNDS, rel=0.07)


def test_flow_speed_and_space():
    (row,) = rows("pedestrian.csv", "flow, speed and space identity")
    assert flow_of(1.2, 3.6) == pytest.approx(float(row["value"]), rel=1e-3)
    assert "speed=1.2;space=3.6" in row["inputs"]


def test_a_person_is_as_wide_as_the_published_body():
    assert numbers(ROWS["pe-056"]["value"])[:2] == [0.50, BODY_M]
    assert crowding(BODY_M - 0.001, 0).crowd == "blocked"
    assert crowding(BODY_M, 0).crowd == "tight"
    assert crowding(2 * BODY_M, 0).crowd == "room to pass"
