"""Waiting for a clear line."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.gaps import HOPELESS_PARTIES, clear_gap

parties = st.floats(0, 3, allow_subnormal=False)
seconds = st.floats(0.5, 30)


def test_an_empty_street_waits_for_nobody():
    gap = clear_gap(0)
    assert (gap.mean_wait_s, gap.clear_share, gap.spoilt_share, gap.expected) == (0, 1, 0, True)


def test_no_gap_is_to_be_expected_in_a_stream_of_people():
    assert clear_gap(HOPELESS_PARTIES / 3).expected
    assert not clear_gap(HOPELESS_PARTIES / 3 + 1e-9).expected
    assert clear_gap(1000, 600).mean_wait_s == math.inf


def test_who_walks_behind_the_model_is_not_waited_for():
    assert clear_gap(0.4, 3, share_crossing=0.25) == clear_gap(0.1, 3)
    assert clear_gap(0.4, 3, share_crossing=0).mean_wait_s == 0


@given(parties, parties, seconds)
def test_more_walkers_never_shorten_the_wait(one, more, gap_s):
    few, many = clear_gap(one, gap_s), clear_gap(one + more, gap_s)
    assert many.mean_wait_s >= few.mean_wait_s * (1 - 1e-12)
    assert many.delayed_wait_s >= few.delayed_wait_s * (1 - 1e-9)
    assert many.spoilt_share >= few.spoilt_share
    assert few.expected or not many.expected


@given(parties, seconds, seconds)
def test_a_longer_gap_never_shortens_the_wait(one, gap_s, more_s):
    assert clear_gap(one, gap_s + more_s).mean_wait_s >= clear_gap(one, gap_s).mean_wait_s * (1 - 1e-12)


@given(st.floats(0.999e-3, 1.001e-3))
def test_series_and_formula_agree_where_they_meet(in_gap):
    exact = (math.expm1(in_gap) - in_gap) / in_gap
    assert clear_gap(in_gap, 1.0).mean_wait_s == pytest.approx(exact, rel=1e-9)


@pytest.mark.parametrize(
    ("field", "asked"),
    [
        ("parties_per_s", (-0.1, 3, 1)),
        ("parties_per_s", (math.nan, 3, 1)),
        ("gap_s", (0.1, 0, 1)),
        ("gap_s", (0.1, math.inf, 1)),
        ("share_crossing", (0.1, 3, 1.2)),
    ],
)
def test_what_cannot_be_meant_is_refused_by_name(field, asked):
    with pytest.raises(InputProblem) as problem:
        clear_gap(*asked)
    assert problem.value.field == field
