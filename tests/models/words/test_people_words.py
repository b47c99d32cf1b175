"""What is said of people: every open thing has its words, with a name on pages and without elsewhere."""

from __future__ import annotations

from datetime import date
from typing import get_args

import pytest

from models.words.never import forbidden_in
from models.words.people import (
    OPEN_WORDS,
    differing_words,
    erased_words,
    group_words,
    if_open_words,
    model_caution,
    named,
    open_words,
    who_words,
)
from models.workshop.people import Headcount, OpenKey, OpenOfPerson
from models.workshop.person import PersonDraft

WHO = named(PersonDraft(workshop_id=1, part="model", name="Zebedee"), 2)
COUNT = Headcount(attendees=6, models=3, helpers=0, guardians=1, guardians_open=1, standing_in=1)


@pytest.mark.parametrize("key", get_args(OpenKey))
def test_each_open_thing_names_whom_it_is_about_and_what_is_left(key):
    item = OpenOfPerson(key, date(2026, 10, 31))
    said = open_words(item, WHO)
    assert "Zebedee" in said.shown
    assert "Zebedee" not in said.told
    assert "model 2" in said.told.lower()
    assert said.told[0].isupper()
    assert if_open_words(item)
    assert forbidden_in(f"{said.shown} {if_open_words(item)}") == []


def test_no_words_are_left_over():
    assert set(OPEN_WORDS) == set(get_args(OpenKey))


def test_a_name_of_braces_is_text():
    who = named(PersonDraft(workshop_id=1, part="model", name="{0} {who.__class__}"), 1)
    assert open_words(OpenOfPerson("adult", None), who).shown == "Whether {0} {who.__class__} is 18 or over is open."


def test_how_the_group_is_counted():
    assert who_words(COUNT) == "6 attendees and 3 models"
    assert group_words(COUNT) == "6 attendees, 3 models, 1 guardian and you make 11. 1 guardian may come too."
    assert differing_words(COUNT, 11, 4) == ()
    assert differing_words(COUNT, 9, 1) == (
        "The workshop says a group of 9; the list makes 11. Rules are looked up for 9.",
        "The workshop says 1 model; the list has 4.",
    )
    nobody = Headcount(attendees=0, models=0, helpers=0, guardians=0, guardians_open=0, standing_in=0)
    assert differing_words(nobody, 9, 1) == ()


@pytest.mark.parametrize(
    ("people", "releases", "said"),
    [(0, 0, "nobody"), (1, 0, "1 person"), (3, 1, "3 people and 1 release"), (0, 2, "2 releases")],
)
def test_who_was_erased(people, releases, said):
    assert erased_words(people, releases) == said


def test_no_picture_is_taken_while_a_consent_is_open_and_files_tell_no_name():
    found = model_caution(
        WHO, [OpenOfPerson(key, date(2026, 10, 17)) for key in ("guardian", "guardian_consent", "release")]
    )
    assert found is not None
    assert found.shown == (
        "Take no picture of Zebedee: Zebedee is under 18, and no guardian is named. "
        "Guardian's consent of Zebedee is open."
    )
    assert "Zebedee" not in found.told
    assert found.told.startswith("Take no picture of model 2: ")
    assert model_caution(WHO, [OpenOfPerson("release", None), OpenOfPerson("money", None)]) is None
