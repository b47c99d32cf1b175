"""The letter to whoever controls a place: whole, plain, with a marked gap for what is not known."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from datetime import date, time
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.rules.activities import ACTIVITIES
from models.rules.footprint import Doing
from models.words.enquiry_letter import ENGLISH, LANGUAGES, TEXTS, LetterFacts, Texts, letter
from models.words.never import forbidden_in

FACTS = LetterFacts(
    to_whom="Town council, highways",
    organiser="Ines Okafor",
    contact="ines@workshop.example",
    place="Foundry Lane",
    activities=("stand_ground", "group", "teaching"),
    doing=Doing(stand_ground=2),
    first_day=date(2026, 7, 18),
    from_time=time(17),
    to_time=time(19),
    zone="CEST",
    width_left_m=2.4,
    insurance="Public liability, EUR 2,500,000, number HM-1",
    insured_to=date(2027, 4, 30),
    reply_by=date(2026, 7, 10),
)
BODY = """Dear Town council, highways,

We plan a small photography workshop at Foundry Lane and ask for your permission for 2 stands on the ground, \
a group of 9 people and paid teaching.

Where: Foundry Lane.
When: Saturday 18 July 2026, 17:00 to 19:00 CEST, from setting up to packed up.
How many: 9 people in all, everyone counted, 1 model among them. It is teaching, and those who come pay for it.
What we bring: 2 stands on the ground, 1 hand-held stand and 1 hand-held flash.
Width left for walkers beside us: 2.4 m.
Insurance: Public liability, EUR 2,500,000, number HM-1, valid to Friday 30 April 2027.

If you can give it: which conditions do you set, what does it cost, and which paper should we carry? \
An answer in writing would help us most.

If another office decides on this, please tell us which one.

We would be glad of your answer by Friday 10 July 2026.

With kind regards,
Ines Okafor
ines@workshop.example
"""


def body(**noted) -> str:
    return letter(replace(FACTS, **noted))[1]


def line(start: str, **noted) -> str:
    return next(line for line in body(**noted).splitlines() if line.startswith(start))


def test_all_that_is_known_is_said():
    subject, text = letter(FACTS)
    assert subject == "Asking for permission: photography workshop, Foundry Lane, Saturday 18 July 2026"
    assert text == BODY


def test_what_is_not_known_is_a_marked_gap_and_no_guess():
    subject, text = letter(LetterFacts())
    assert subject == "Asking for permission: photography workshop, [place], [day]"
    gaps = set(re.findall(r"\[[^]]+\]", text))
    assert gaps == set(ENGLISH.gaps.values())
    assert not re.search(r"\d", text)


@pytest.mark.parametrize(
    ("field", "gap"),
    [
        ("to_whom", "[who is asked]"),
        ("organiser", "[your name]"),
        ("contact", "[how to reach you]"),
        ("place", "[place]"),
        ("activities", "[what you ask for]"),
        ("doing", "[stands, tripods and flashes]"),
        ("first_day", "[day]"),
        ("from_time", "[from]"),
        ("to_time", "[to]"),
        ("zone", "[time zone]"),
        ("width_left_m", "[width in metres, not measured yet]"),
        ("insurance", "[insurer, sum and number]"),
    ],
)
def test_each_fact_that_is_missing_has_its_gap(field, gap):
    nothing = {item.name: item.default for item in fields(LetterFacts)}[field]
    assert gap not in body()
    assert gap in body(**{field: nothing})


def test_a_reply_is_asked_for_only_where_a_day_is_wanted():
    assert "glad of your answer" not in body(reply_by=None)
    assert "valid to" not in body(insured_to=None)


def test_several_days_and_nights():
    days = {"first_day": date(2026, 7, 18), "last_day": date(2026, 7, 19)}
    assert line("When", **days) == (
        "When: Saturday 18 July 2026 to Sunday 19 July 2026, each day 17:00 to 19:00 CEST, "
        "from setting up to packed up."
    )
    assert line("When", last_day=FACTS.first_day) == line("When")
    assert "22:30 to 00:15 the next day CEST" in line("When", from_time=time(22, 30), to_time=time(0, 15))
    assert "00:00 to 00:00 the next day" in line("When", from_time=time(), to_time=time())


@pytest.mark.parametrize(
    ("metres", "said"),
    [(1.4999, "1.49 m"), (1.5, "1.5 m"), (0.29, "0.29 m"), (2.005, "2 m"), (12.0, "12 m"), (0.0, "0 m")],
)
def test_a_width_is_never_rounded_up(metres, said):
    assert line("Width", width_left_m=metres) == f"Width left for walkers beside us: {said}."


def test_people_asked_for_come_before_those_of_the_plan():
    assert line("How many", people=12) == line("How many").replace("9 people", "12 people")
    assert "a group of 12 people" in body(people=12)
    assert line("How many", doing=None, people=1, activities=()) == "How many: 1 person in all, everyone counted."


def test_what_is_brought():
    plain = Doing(group=4, models=2, teaching=False, stand_held=0, flash_held=0, obstruction=True)
    assert line("What we bring", doing=plain) == "What we bring: cameras only."
    assert line("How many", doing=plain) == "How many: 4 people in all, everyone counted, 2 models among them."
    assert line("Width", doing=plain).endswith("2.4 m. It narrows the footway.")
    all_of_it = Doing(tripod=1, cable=True, vehicle=True, signs=True, models=0)
    assert line("What we bring", doing=all_of_it) == (
        "What we bring: 1 hand-held stand, 1 tripod, 1 hand-held flash, a cable or generator, a vehicle and signs."
    )
    assert "among them" not in body(doing=all_of_it)


def test_what_is_asked_for_without_a_number_is_named():
    assert "ask for your permission for tripod and models." in body(
        activities=("tripod", "models"), doing=Doing(models=0)
    )


def test_an_unknown_language_is_refused_by_name():
    with pytest.raises(InputProblem, match="“xx” is not written here yet; choose en") as met:
        letter(FACTS, "xx")
    assert met.value.field == "language"
    assert LANGUAGES == {"en": "English"}


@pytest.mark.parametrize("texts", TEXTS.values(), ids=TEXTS)
def test_a_language_has_all_its_texts(texts):
    """Every text fills in what the English one does, and every activity has its words."""
    for field in fields(Texts):
        own, english = getattr(texts, field.name), getattr(ENGLISH, field.name)
        if isinstance(english, str):
            assert own
            assert _names(own) == _names(english), field.name
    assert set(texts.amounts) == set(texts.names) == set(ACTIVITIES)
    assert set(texts.gaps) == set(ENGLISH.gaps)
    assert all(gap.startswith("[") and gap.endswith("]") for gap in texts.gaps.values())


def _names(pattern: str) -> set[str | None]:
    return {name for _, name, _, _ in Formatter().parse(pattern)}


DOINGS = st.builds(
    Doing, group=st.integers(1, 30), models=st.integers(0, 3), tripod=st.integers(0, 2), signs=st.booleans()
)
WIDTHS = st.none() | st.floats(0, 200)


@given(
    st.sets(st.sampled_from(list(ACTIVITIES))), st.none() | DOINGS, WIDTHS, st.booleans(), st.sampled_from(list(TEXTS))
)
def test_no_letter_says_that_something_may_be_done(asked, doing, width, known, language):
    facts = replace(FACTS if known else LetterFacts(), activities=tuple(asked), doing=doing, width_left_m=width)
    subject, text = letter(facts, language)
    assert forbidden_in(subject + text) == []
    for broken in ("{", "}", "None", "!", "  ", ".."):
        assert broken not in subject + text
    assert text.endswith("\n")
    assert "\n\n\n" not in text


def test_what_is_typed_goes_in_as_it_is():
    odd = "Bridge & {weir} <b>100%</b>"
    subject, text = letter(replace(FACTS, place=odd, organiser="{0}", insurance="{x}"))
    assert odd in subject
    assert f"Where: {odd}." in text
    assert "{0}\n" in text
    assert "Insurance: {x}, valid" in text
