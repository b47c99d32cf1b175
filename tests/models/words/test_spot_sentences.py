"""The sentences about a spot read well whatever the light, and never word a rule as permission."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.light.exposure import EvFigure
from models.light.facing import SunPlace
from models.light.flash import answer
from models.words import spot as words
from models.words.sources import SOURCES
from tests.models.light.setups import choice, choices

evs = st.floats(-6, 18)
behinds = st.none() | evs
PERMISSION = re.compile(r"\b(allowed|permitted|may stand|legal|no permit|you can stand|free to)\b", re.IGNORECASE)


def reads_well(text: str) -> None:
    """No holes, no doubled blanks, no hyphen for a minus, no exclamation mark, a full stop at the end."""
    assert text.strip().endswith(".")
    assert "  " not in text.strip()
    for slip in ("None", "nan", "inf ", "..", " .", " ,", "!", "{", "}", "()"):
        assert slip not in text, text
    assert not re.search(r"(?<![\w)])-\d", text), text
    assert re.match(r"[A-Z0-9“]", text.strip()), text


@settings(max_examples=150)
@given(choices, evs, behinds)
@example(choice(), 9.5, 10.3)
@example(choice(), -6.0, None)
@example(choice(), 18.0, 17.0)
def test_what_the_flash_makes_of_it_reads_well(given_choice, face, behind):
    found = answer(given_choice, EvFigure(face, 0.7), None if behind is None else EvFigure(behind, 0.7))
    told = words.flash("One small flash, wide, bare, at 2 m", found)
    reads_well(told.text)
    for line in words.flash_lines(found):
        reads_well(line)
    starts = "start at " in told.text
    assert starts == (not found.ambient_exposes and not found.too_weak and not found.too_strong)
    if starts:
        assert found.start_at.words in told.text
        assert found.start_at.settings.words in told.text
    if found.too_weak and not found.ambient_exposes:
        assert " stops short" in told.text or "nothing in hand" in told.text
        assert not re.search(r" is [\w.]+( stops)? in hand", told.text)
    if found.ambient_exposes:
        assert "exposes the face" in told.text


@given(evs, st.floats(0, 3), behinds)
def test_brightness_reads_well_and_always_says_its_doubt(face, doubt, behind):
    looking = None if behind is None else "250° (west)"
    told = words.brightness(face, doubt, behind, looking, "10.2 to 11.4 by facing, ")
    reads_well(told.text)
    assert "give or take" in told.text
    strong = [text for text, is_strong in told.parts if is_strong]
    assert all(text.startswith("EV ") for text in strong)
    assert len(strong) == (1 if behind is None else 2)


def test_the_answer_begins_with_the_moment_and_the_state():
    told = words.place_and_time("Foundry Lane", "Saturday 17 October 2026, 16:40 CEST", "in open shade", None)
    assert told.text == "Saturday 17 October 2026, 16:40 CEST. Foundry Lane is in open shade for the rest of the day."
    until = words.place_and_time("X", "M", "in the sun", "until 17:05 (sun leaves)", too_close=True)
    assert until.text.startswith("M. X is in the sun until 17:05 (sun leaves). ")
    assert until.text.endswith("too close to call.")


@pytest.mark.parametrize("controller", ["", "Harbour office", "<b>Town</b>"])
def test_what_nobody_checked_is_never_permission(controller):
    told = words.not_checked(controller).text
    assert told.startswith("Not checked: ")
    assert not PERMISSION.search(told)
    assert controller in told
    assert ("find out whom to ask" in told) == (not controller)
    reads_well(told)


@pytest.mark.parametrize("sun", [None, *get_args(SunPlace)])
@pytest.mark.parametrize("height_deg", [-20.0, 5.0, 40.0, 70.0])
@pytest.mark.parametrize("dark", [True, False])
@pytest.mark.parametrize("hazards", ["", "vans from the left", "A drain."])
def test_the_usual_cautions(sun, height_deg, dark, hazards):
    told = words.cautions(hazards, sun, height_deg, dark)
    for line in told:
        reads_well(line)
        assert not PERMISSION.search(line)
    together = " ".join(told)
    assert "Local codes and licensed practice decide." in told[-1]
    assert "One hand on every standing light" in told[-1]
    assert (hazards.rstrip(".") in together) if hazards else "At this spot" not in together
    assert ("never look at it through a lens" in together) == (
        sun == "in the lens" or (sun == "rim from behind" and height_deg < 15)
    )
    assert ("do not work alone" in together) == dark


def test_every_source_has_a_name_and_a_place_to_look():
    assert len(SOURCES) == len({name for name, _ in SOURCES}) >= 8
    for _, text in SOURCES:
        assert len(text) > 15
    told = " ".join(text for _, text in SOURCES)
    for authority in (
        "NOAA",
        "Ineichen and Perez 2002",
        "Perez and others 1990",
        "Kasten and Czeplak 1980",
        "CIE",
        "ISO",
    ):
        assert authority in told


def test_a_flash_that_is_too_strong_names_its_lowest_rung_and_no_power_it_has_not():
    found = answer(choice(), EvFigure(2.0, 0.7), EvFigure(1.0, 0.7))
    assert found.too_strong
    told = words.flash("One small flash", found).text
    over = f"{-found.start_at.remainder_stops:.1f}".removesuffix(".0")
    assert told == (
        f" One small flash is too strong: its lowest rung, {found.start_at.words}, is {over} stops too much; "
        "see the ways out."
    )
    lines = " ".join(words.flash_lines(found))
    assert "would need" not in lines
    assert f"Too strong: its lowest rung, {found.start_at.words}," in lines


def test_lamps_that_nobody_noted_are_told_as_a_range():
    told = words.lamps_not_known((0.0, 5.0)).text
    reads_well(told)
    assert told.startswith(" The face reads EV 0 to 5, not known: nobody noted the lamps here.")


@pytest.mark.parametrize(
    ("count", "said"),
    [(0, "Lane is deleted."), (1, "Lane is deleted. 1 workshop to come there stays and needs another spot."),
     (2, "Lane is deleted. 2 workshops to come there stay and need another spot.")],
)  # fmt: skip
def test_a_deleted_spot_tells_of_its_workshops(count, said):
    assert words.deleted_words("Lane", count) == said
