"""Walking speeds (MUTCD 2009, HCM 2010, Fruin 1971: data/pedestrian.csv) and geodesic distances (Karney's and national
test lines: data/geodesy.csv).

Tolerances: speeds to the two decimals printed; geodesics those of the rows, 1 mm where a library is used; the plane of
models/street/plane.py 0.1 % over a walk.
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from models.exchange.geodesy import metres_between
from models.street.footways import shortest_way
from models.street.town import FootwayDraft
from models.street.walking import GROUP_PACE_M_S, SLOW_PACE_M_S, straight_walk
from models.units import METRES_PER_FOOT
from tests.authorities.light_rows import table

SPEEDS = {row["id"]: row for row in table("pedestrian.csv")}
LINES = {row["id"]: row for row in table("geodesy.csv") if "->" in row["inputs"]}
TOLERANCE_M = {"ge-001": 0.5, "ge-003": 1e-3, "ge-010": 1e-3, "ge-013": 1e-3}


def test_paces_are_those_of_signal_timing():
    for row_id, pace in (("pe-050", GROUP_PACE_M_S), ("pe-051", SLOW_PACE_M_S)):
        feet, metres = (float(number) for number in re.findall(r"\d\.\d+", SPEEDS[row_id]["value"]))
        assert pace == metres == round(feet * METRES_PER_FOOT, 2)


def test_a_group_is_slower_than_people_walk_by_themselves_and_no_slower_than_the_slow():
    """Below the means of both ages and of free walking, above the slower 15 % of older people."""
    means = [*re.findall(r"\d\.\d+", SPEEDS["pe-054"]["value"])]
    free_m_s = float(SPEEDS["pe-055"]["value"].split("=")[1])
    slow_ft_s = float(re.findall(r"\d\.\d+", SPEEDS["pe-053"]["value"])[1])
    assert all(float(mean) * METRES_PER_FOOT > GROUP_PACE_M_S for mean in means)
    assert slow_ft_s * METRES_PER_FOOT < GROUP_PACE_M_S < free_m_s
    assert straight_walk(428.0, GROUP_PACE_M_S, 1.0).time_s == pytest.approx(400)


def points(text: str) -> list[tuple[float, float]]:
    """The two ends, decimal degrees or degrees, minutes and seconds."""
    ends = []
    for end in text.split(";")[1].split("->"):
        latitude, longitude = end.split(",")
        ends.append((degrees(latitude), degrees(longitude)))
    return ends


def degrees(text: str) -> float:
    parts = [float(part) for part in text.split()]
    size = sum(abs(part) / 60**place for place, part in enumerate(parts))
    return -size if text.strip().startswith("-") else size


def test_all_lines_are_here():
    assert set(LINES) == set(TOLERANCE_M)


@pytest.mark.parametrize("row_id", TOLERANCE_M)
def test_geodesic_distance(row_id):
    """GRS80 (ge-010) and WGS84 differ by 0.1 mm over that line, as its row says."""
    published_m = float(LINES[row_id]["value"].split("/")[0])
    assert metres_between(*points(LINES[row_id]["inputs"])) == pytest.approx(published_m, abs=TOLERANCE_M[row_id])


@pytest.mark.parametrize("latitude", [0.0, 30.0, 52.5, 60.2])
def test_a_way_is_as_long_as_its_geodesic_pieces(latitude):
    line = [(24.9, latitude), (24.91, latitude + 0.004), (24.902, latitude + 0.007), (24.93, latitude + 0.012)]
    way = shortest_way([FootwayDraft(tuple(line))], line[0][::-1], line[-1][::-1])
    assert way is not None
    geodesic_m = sum(metres_between(a[::-1], b[::-1]) for a, b in pairwise(line))
    assert way.distance_m == pytest.approx(geodesic_m, rel=1e-3)
