"""The kinds of rule areas: each has a texture beside its word. Tones come from the stylesheet."""

from __future__ import annotations

from models.drawing.scale import small_box
from models.drawing.svg import el
from models.drawing.textures import Texture
from models.rules.areas import KINDS

_CLS = "area-mark"
TEXTURES: dict[str, Texture] = {
    "public_street": Texture(14, 14, ((0, 14, "l14 -14"), (-1, 1, "l2 -2"), (13, 15, "l2 -2")), _CLS),
    "park": Texture(14, 14, ((1, 6, "l2 -4l2 4"), (8, 13, "l2 -4l2 4")), _CLS),
    "transit": Texture(14, 14, ((0, 7, "h14"), (3.5, 3.5, "v7"), (10.5, 3.5, "v7")), _CLS),
    "private_open": Texture(14, 14, ((0, 14, "l14 -14"), (0, 0, "l14 14")), _CLS),
    "private_consent": Texture(14, 14, ((3, 0, "v14"), (6, 0, "v14")), _CLS),
    "car_park": Texture(14, 14, ((0, 12, "h14"), (7, 4, "v8")), _CLS),
    "waterfront": Texture(14, 7, ((0, 3.5, "q3.5 -4.5 7 0q3.5 4.5 7 0"),), _CLS),
}
"""Lines only, so that the street under an area stays in sight and overlaps show both."""


def kind_swatch(kind: str) -> str:
    """A small box of the kind's texture, named by its words."""
    texture = TEXTURES[kind]
    ground = el("rect", cls="tone-area", x=0.5, y=0.5, width=27, height=13)
    return small_box(KINDS[kind], ground + texture.mark(int(28 // texture.width), int(14 // texture.height)))


def kind_patterns() -> str:
    """What a map draws kinds with: a rect 'tone-<kind>' and a pattern 'texture-<kind>' each."""
    tones = [el("rect", cls="tone-area", id=f"tone-{kind}", width=1, height=1) for kind in TEXTURES]
    return "".join([*(texture.pattern(f"texture-{kind}") for kind, texture in TEXTURES.items()), *tones])
