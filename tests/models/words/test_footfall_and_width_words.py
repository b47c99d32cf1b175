"""The answers about who comes by and what is left for them: unknown is said, nothing is worded as permission."""

from __future__ import annotations

from models.street.crowding import crowding
from models.street.footfall import Rate
from models.words.footfall import COUNTING_CAUTIONS, footfall_answer, footfall_short
from models.words.never import forbidden_in
from models.words.width import NOT_MEASURED, WIDTH_CAUTIONS, obstructs_words, tight_hours_words, upper_end_words

BUSY = Rate(342.0, 287.0, 405.0, 10.0, 57.0)
NOBODY = Rate(0.0, 0.0, 8.0, 20.0, 0.0)


def test_figures_interval_and_kind_of_day_stand_in_the_answer():
    words = footfall_answer("Here", "saturday", 17, BUSY).text
    assert words.startswith("Here: about 340 people an hour, 80 % between 290 and 400 (Saturdays, 17 to 18 h). For 3 s")
    assert "nobody seen in 20 minutes" in footfall_answer("Here", "sunday", 3, NOBODY).text


def test_no_count_is_no_figure():
    words = footfall_answer("Here", "weekday", 9, None).text
    assert "not counted" in words
    assert "people an hour" not in words
    assert footfall_short(None) == "not counted at that hour"


def test_hours_that_get_tight_are_named():
    assert tight_hours_words({}, 0) == ""
    assert tight_hours_words({}, 1) == "In the one hour counted there is room to pass beside the station."
    assert tight_hours_words({"saturday": [14, 15]}, 2) == (
        "Tight or blocked beside the station on Saturdays 14 to 15 h and 15 to 16 h."
    )


def test_a_worse_upper_end_is_said():
    calm, tight = crowding(2.5, 1000), crowding(2.5, 4500)
    assert upper_end_words(calm, calm) == ""
    assert "tight" in upper_end_words(calm, tight)


def test_nothing_is_worded_as_permission():
    said = " ".join((*COUNTING_CAUTIONS, *WIDTH_CAUTIONS, NOT_MEASURED.text, obstructs_words(True).text))
    assert forbidden_in(said) == []
