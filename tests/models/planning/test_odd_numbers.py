"""What looks like a number and is none, or is too long for one: refused with the field's name, never a crash."""

from __future__ import annotations

from datetime import date

import pytest

from models.planning.moments import read_clock, read_date, read_sky
from models.planning.places import read_box, read_place
from models.planning.sentence import read_distance, read_looking, read_sentence, read_stops
from models.planning.times_ask import read_ask
from models.problems import InputProblem
from tests.models.planning.test_sentence import KIT

TODAY = date(2026, 10, 17)
ODD = (
    "²",
    "½",
    "Ⅷ",
    "९" * 3,
    "9" * 5000,
    "1e400",
    "nan",
    "inf",
    "-0x1",
    "1_0",
    "\u0661\u0660\u0660\u0660",
    "1/0",
    "0/0",
)


@pytest.mark.parametrize("typed", ODD)
@pytest.mark.parametrize(
    ("field", "read"),
    [
        ("sky", read_sky),
        ("date", lambda text: read_date(text, TODAY)),
        ("time", read_clock),
        ("distance", read_distance),
        ("looking", read_looking),
        ("under", lambda text: read_stops("under", text)),
        ("units", lambda text: read_sentence({"units": text}, KIT)),
        ("zoom", lambda text: read_sentence({"zoom": text}, KIT)),
        ("length", lambda text: read_ask({"length": text}, TODAY)),
        ("days", lambda text: read_ask({"days": text}, TODAY)),
        ("place", read_place),
        ("bbox", read_box),
    ],
)
def test_an_odd_number_is_a_problem_with_a_name_or_a_number(field, read, typed):
    problem = problem_of(read, typed)
    if problem is None:
        assert any(letter.isdecimal() for letter in typed)
    else:
        assert problem.field == field
        assert problem.message


def problem_of(read, typed: str) -> InputProblem | None:
    try:
        read(typed)
    except InputProblem as problem:
        return problem
    return None


@pytest.mark.parametrize("typed", ["²", "½", "nan", "inf", "9" * 5000, "1/0"])
def test_what_is_no_number_anywhere_is_refused_everywhere(typed):
    for read in (read_sky, read_distance, read_looking, lambda text: read_stops("under", text)):
        with pytest.raises(InputProblem):
            read(typed)


@pytest.mark.parametrize(
    ("typed", "minutes"), [("90", 90), ("90 min", 90), ("1.5 h", 90), ("1,5h", 90), ("2 hours", 120), ("", 90)]
)
def test_lengths_as_people_type_them(typed, minutes):
    assert read_ask({"length": typed}, TODAY).length_min == minutes
