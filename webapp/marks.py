"""The drawing package's marks, handed to templates: one texture a state, one colour scale a quantity."""

from __future__ import annotations

from flask import Flask
from markupsafe import Markup

from models.drawing.scale import BRIGHTNESS, RESERVE
from models.drawing.scale import swatch as scale_swatch
from models.drawing.states import STATES, State, state_swatch
from models.drawing.svg import el
from models.drawing.textures import TEXTURES


def init_app(app: Flask) -> None:
    app.add_template_global(swatch)
    app.add_template_global(unknown_swatch)
    app.add_template_global(state_textures)
    app.add_template_global(BRIGHTNESS, "brightness")
    app.add_template_global(RESERVE, "reserve")
    app.add_template_filter(signed)
    app.add_template_filter(distance)


def swatch(state: State, words: str) -> Markup:
    """The state's small box, named by its words."""
    return Markup(state_swatch(state, words))  # noqa: S704  drawing escapes what it is given


def unknown_swatch(words: str) -> Markup:
    """The crossed box of what is not known."""
    return Markup(scale_swatch(BRIGHTNESS, None, words))  # noqa: S704


def state_textures() -> Markup:
    """What the map draws states with: a rect 'tone-<state>' and a pattern 'texture-<state>' each."""
    looks = [(state, look.texture, f"tone-{state}") for state, look in STATES.items()] + [
        ("unknown", "cross", "unknown")
    ]
    patterns = [TEXTURES[texture].pattern(f"texture-{state}") for state, texture, _ in looks if texture]
    tones = [el("rect", cls=tone, id=f"tone-{state}", width=1, height=1) for state, _, tone in looks]
    return Markup("".join(patterns + tones))  # noqa: S704


def signed(stops: float) -> str:
    """'+2.5', '−0.8', never '−0.0'."""
    return f"{round(stops, 1) + 0.0:+.1f}".replace("-", "−")


def distance(metres: float) -> str:
    """'120 m', '1.4 km', '38 km': to the step a walker cares for."""
    if metres < 995:
        return f"{round(metres, -1 if metres >= 100 else 0):.0f} m"
    return f"{metres / 1000:.1f} km" if metres < 9950 else f"{metres / 1000:.0f} km"
