"""Times as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.workshops.durations import duration_text, read_duration
from models.problems import InputProblem


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("90", "s", 90), ("90 s", "s", 90), ("90 sec", "s", 90), ("2 min", "s", 120), ("1:30", "s", 90),
        ("1,5 min", "s", 90),
        ("1 min 30 s", "s", 90), ("10", "min", 10), ("90 s", "min", 1.5), ("1 h 15 min", "min", 75),
        ("2 minutes", "s", 120),
        ("0", "s", 0), ("0.5 h", "min", 30), ("45 seconds", "s", 45), ("2'30\"", "s", 150),
    ],
)  # fmt: skip
def test_a_time_is_read(text, unit, value):
    assert read_duration("pose_s", text, unit) == pytest.approx(value)


@pytest.mark.parametrize(
    "text", ["", " ", "soon", "-5 s", "1:75", "nan", "inf", "1e3", "5 fortnights", "1 s 2 min", "٣ s"]
)
def test_what_is_no_time_is_refused_by_its_field(text):
    with pytest.raises(InputProblem) as problem:
        read_duration("pose_s", text, "s")
    assert problem.value.field == "pose_s"


@given(st.floats(0, 600).map(lambda x: round(x, 2)), st.sampled_from(["s", "min"]))
def test_what_is_shown_is_read_back(value, unit):
    assert read_duration("x", duration_text(value, unit), unit) == pytest.approx(value, abs=1e-3)
