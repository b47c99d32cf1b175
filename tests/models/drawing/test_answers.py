"""The marks of the eight answers: each unlike the others without its colour, strictest darkest, none of them green."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from models.drawing.answers import LOOKS, answer_swatch
from models.drawing.textures import TEXTURES
from models.rules.answers import Answer
from tests.models.drawing.reading import parse
from tests.models.drawing.samples import HOSTILE
from tests.models.drawing.test_stylesheet import TONES, luminance

SHEET = Path("webapp/static/css/drawings.css").read_text(encoding="utf-8")
TONE_OF = {
    int(number): tone
    for rule in re.findall(r"^((?:\.tone-answer-\d(?:, )?)+) \{ fill: var\(--d-([a-z]+)\) \}", SHEET, re.MULTILINE)
    for number in re.findall(r"\d", rule[0])
    for tone in [rule[1]]
}


@pytest.mark.parametrize("answer", Answer)
def test_a_mark_is_named_by_its_words_and_well_formed(answer):
    box = parse(answer_swatch(answer, HOSTILE))
    assert box.attrib["role"] == "img"
    assert box.attrib["aria-label"].startswith(HOSTILE[:5])


def test_no_two_marks_look_alike_without_their_tone():
    assert set(LOOKS) == set(Answer)
    assert len(set(LOOKS.values())) == len(Answer)


@pytest.mark.parametrize("answer", [answer for answer in Answer if LOOKS[answer]])
def test_a_texture_stays_in_its_box(answer):
    """28 by 14 units; each stroke by its ends, which is enough for straight ones."""
    tile = TEXTURES[LOOKS[answer]]
    path = tile.path(int(28 // tile.width), max(1, int(14 // tile.height)))
    for x, y, tail in re.findall(r"M([\d.-]+) ([\d.-]+)([a-z][^M]*)", path):
        kind, *numbers = tail[0], *map(float, re.findall(r"-?[\d.]+", tail))
        across, down = {"h": (numbers[0], 0.0), "l": tuple(numbers[:2])}[kind]
        for end_x, end_y in ((float(x), float(y)), (float(x) + across, float(y) + down)):
            assert 0 <= end_x <= 28
            assert 0 <= end_y <= 14


def test_a_stricter_answer_is_never_lighter_and_none_is_coloured():
    """But for what nobody checked, which is paper with marks in the accent: loud in another way."""
    assert set(TONE_OF) == {answer.value for answer in Answer}
    lights = [luminance(TONES[TONE_OF[answer.value]][0]) for answer in Answer if answer != Answer.NOT_CHECKED]
    assert lights == sorted(lights)
    for tone in TONE_OF.values():
        red, green, blue = (int(TONES[tone][0][k : k + 2], 16) for k in (1, 3, 5))
        assert green <= max(red, blue) + 3
