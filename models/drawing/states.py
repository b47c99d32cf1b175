"""The states of the light at a spot: each has a word, a texture and a tone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from models.drawing.scale import small_box
from models.drawing.svg import el
from models.drawing.textures import TEXTURES

State = Literal["sun", "leaves", "shade", "unsure", "dusk", "lamps", "dark"]


@dataclass(frozen=True, slots=True)
class StateLook:
    """texture: a name of textures.TEXTURES or ''; night: words on it are light."""

    words: str
    texture: str
    night: bool = False


STATES: dict[State, StateLook] = {
    "sun": StateLook("sun", ""),
    "leaves": StateLook("leaves", "leaf"),
    "shade": StateLook("open shade", "dots"),
    "unsure": StateLook("too close to call", "dash"),
    "dusk": StateLook("dusk", "hatch"),
    "lamps": StateLook("lamps", "lamps", night=True),
    "dark": StateLook("dark", "", night=True),
}


def state_swatch(state: State, words: str = "") -> str:
    """A small box of the state's tone and texture, for a line in a list."""
    look = STATES[state]
    inside = el("rect", cls=f"tone-{state}", x=0.5, y=0.5, width=27, height=13)
    if look.texture:
        texture = TEXTURES[look.texture]
        inside += texture.mark(int(28 // texture.width), max(1, int(14 // texture.height)))
    return small_box(words or look.words, inside)
