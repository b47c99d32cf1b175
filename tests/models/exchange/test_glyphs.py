"""Words for the printed page: whatever is typed can be set, and what can be set is left as it is."""

from __future__ import annotations

import json

import pytest
import typst
from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.exchange.glyphs import MISSING, drawn, lacks, printable
from models.exchange.pdf_sheet import FAMILIES
from tests.models.exchange.printed import drawing

TEMPLATE = b"""
#let v = json(bytes(sys.inputs.data))
#set document(title: "words")
#set text(lang: "en", font: ("Libertinus Serif", "DejaVu Sans Mono"), fallback: false)
#for each in v.words { par(each) }
#for each in v.drawings { image(bytes(each), alt: "drawing") }
"""
LETTERS = st.one_of(
    st.text(),
    st.text(st.characters(min_codepoint=0x300, max_codepoint=0x36F) | st.sampled_from("aé שאل1,.")),
    st.text(st.characters(whitelist_categories=("Lo", "Lm", "So", "Sk", "Sm", "Po"))),
)


def set_in_type(words: list[str], drawings: tuple[str, ...] = ()) -> bytes:
    """Raises TypstError for a letter that the typefaces lack."""
    data = {"data": json.dumps({"words": words, "drawings": drawings})}
    return typst.compile(TEMPLATE, sys_inputs=data, ignore_system_fonts=True, pdf_standards=["ua-1"])


@given(st.lists(LETTERS, min_size=10, max_size=40))
@settings(max_examples=25)
def test_whatever_is_typed_can_be_set(words):
    assert set_in_type([printable(each) for each in words])


def test_every_sign_taken_as_printable_is():
    every = [chr(code) for code in range(0x20000) if not 0xD800 <= code < 0xE000]
    known = [each for each in every if each != MISSING and printable(each) == each]
    assert len(known) > 3000
    assert set_in_type(known)


@pytest.mark.parametrize("words", ["16:22 CEST, 52.53040", "Łódź, Győr, Ærø", "Ωμέγα и Юг", "½ × 2 − 1° → □…"])
def test_what_can_be_set_is_left_as_it_is(words):
    assert printable(words) == words
    assert not lacks(words)


def test_what_cannot_be_set_is_shown_as_missing():
    assert printable("a\x00b 漢 🙂") == f"a{MISSING}b {MISSING} {MISSING}"
    assert lacks("漢")
    assert lacks("\x00")
    assert not lacks(" \n\t")


def test_composed_letters_are_kept_and_marks_that_no_letter_holds_are_left_out():
    assert printable("cafe\u0301") == "café"
    assert printable("q\u0302 A\u030b") == "q A"
    assert printable("ש\u0302\u0489") == "ש"


def test_marks_of_direction_are_ours_alone():
    assert printable("\u202eabc\u2066d\u200f") == "abcd"
    assert printable("At שלום, 52.5, 5.2") == "At שלום\u200e, 52.5, 5.2"
    assert printable("שלום 12 السوق: 7:30 CEST") == "שלום 12 السوق\u200e: 7:30 CEST"
    assert printable("שלום 12, 30") == "שלום 12, 30"


def test_a_long_word_may_be_broken_and_a_short_one_not():
    assert printable("W" * 24) == "W" * 24
    broken = printable("W" * 30)
    assert broken.replace("\u200b", "") == "W" * 30
    assert max(map(len, broken.split("\u200b"))) == 6


def test_spaces_and_lines_become_one_space():
    assert printable("  a\n\n b\tc ") == "a b c"


@given(st.text())
def test_a_drawing_keeps_its_markup(words):
    svg = drawing(words)
    assert [each for each in drawn(svg) if each in "<>/="] == [each for each in svg if each in "<>/="]


def test_no_name_changes_the_marks_of_its_drawing():
    """U+0338 makes one sign of itself and a `>`, `<` or `=` before it (Unicode, NFC)."""
    assert drawn(drawing("\u0338x")) == drawn(drawing("x"))


@given(st.lists(st.text(), min_size=1, max_size=8))
@example(["A\u030b"])
@example(["\u01cd\u2557\u21f8\u05d0"])
@settings(max_examples=15)
def test_whatever_stands_in_a_drawing_can_be_set(words):
    named = [drawn(drawing(each)).replace("<svg", f'<svg font-family="{FAMILIES}"', 1) for each in words]
    assert set_in_type([], tuple(named))
