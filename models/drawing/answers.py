"""The eight answers of the rules: each has a texture and a tone beside its words, darkest where it is strictest."""

from __future__ import annotations

from models.drawing.scale import small_box
from models.drawing.svg import el
from models.drawing.textures import TEXTURES
from models.rules.answers import Answer

LOOKS: dict[Answer, str] = {
    Answer.NOT_PERMITTED: "",
    Answer.TOO_LATE: "weave",
    Answer.ASK_BY: "stripes",
    Answer.NOT_CHECKED: "crosses",
    Answer.TOO_OLD: "breaks",
    Answer.NO_ANSWER_YET: "pauses",
    Answer.GRANTED: "lines",
    Answer.RECORDED_PERMITTED: "line",
}
"""Textures by answer; the tone is the class 'tone-answer-N' of drawings.css."""


def answer_swatch(answer: Answer, words: str) -> str:
    """A small box of the answer's tone and texture, named by its words."""
    inside = el("rect", cls=f"tone-answer-{answer.value}", x=0.5, y=0.5, width=27, height=13)
    if texture := LOOKS[answer]:
        tile = TEXTURES[texture]
        inside += tile.mark(int(28 // tile.width), max(1, int(14 // tile.height)))
    return small_box(words, inside)
