"""The wait for a gap in a stream of passers: Adams, Road traffic considered as a random series, J. Inst. Civil
Engineers 4 (1936) 121, rows pe-070 to pe-080 of data/pedestrian.csv, and a street simulated event by event.

Tolerances: 0.1 % of the rows plus half of their last digit; of the simulation four times its own sampling error.
"""

from __future__ import annotations

import numpy as np
import pytest

from models.street.gaps import clear_gap
from tests.authorities.light_rows import given, rows, wanted

PUBLISHED = rows("pedestrian.csv", "Adams mean delay")


def test_all_rows_are_here():
    assert len(PUBLISHED) == 5


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["id"])
def test_published_waits(row):
    gap = clear_gap(given(row)["q"], given(row)["T"])
    found = (gap.mean_wait_s, gap.delayed_wait_s, gap.clear_share)
    for value, published in zip(found, wanted(row), strict=True):
        assert value == pytest.approx(published, rel=1e-3, abs=5e-5)


def test_hardly_anybody_comes_by():
    (row,) = rows("pedestrian.csv", "limit q -> 0")
    asked, published_s = given(row), 5e-8
    assert row["value"] == "5e-08"
    assert clear_gap(1e-9, asked["T"]).mean_wait_s == pytest.approx(published_s, rel=0.01)


def simulated_waits(parties_per_s: float, gap_s: float, seed: int) -> np.ndarray:
    """Waits of 40,000 photographers, each from some moment of a Poisson stream until nobody comes for gap_s."""
    draw = np.random.default_rng(seed)
    waited = np.zeros(40_000)
    going = np.ones(len(waited), bool)
    while going.any():
        headway = draw.exponential(1 / parties_per_s, len(waited))
        going &= headway < gap_s
        waited[going] += headway[going]
    return waited


@pytest.mark.parametrize(("people_per_h", "gap_s"), [(120, 3), (600, 3), (600, 6), (1500, 3), (2400, 5)])
def test_a_simulated_street_waits_as_long(people_per_h, gap_s):
    parties_per_s = people_per_h / 1.5 / 3600
    gap = clear_gap(parties_per_s, gap_s)
    waited = simulated_waits(parties_per_s, gap_s, seed=people_per_h)
    figures = ((gap.mean_wait_s, waited), (gap.delayed_wait_s, waited[waited > 0]), (gap.clear_share, waited == 0))
    for figure, drawn in figures:
        assert figure == pytest.approx(drawn.mean(), abs=4 * drawn.std() / np.sqrt(len(drawn)))


def test_a_simulated_street_spoils_as_many_frames():
    """Parties stay in the picture for 1.5 to 4.5 s, 3 s on average; a frame each whole second of three hours."""
    draw = np.random.default_rng(7)
    parties_per_s, seconds = 0.12, 3 * 3600
    enters = draw.uniform(-10, seconds, draw.poisson(parties_per_s * (seconds + 10)))
    leaves = enters + draw.uniform(1.5, 4.5, len(enters))
    frames = np.arange(seconds)
    inside = np.searchsorted(np.sort(enters), frames, "right") - np.searchsorted(np.sort(leaves), frames, "right")
    assert clear_gap(parties_per_s, 3.0).spoilt_share == pytest.approx((inside > 0).mean(), abs=0.02)
