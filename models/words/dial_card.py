"""The dial card and the re-dial lines, in words short enough for a card in the hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from models.light.card import Check, DialCard, LightCard, Rigging
from models.light.placing import ground_m
from models.light.redial import PowerTurn, Redial, Turn
from models.light.series import metres_words, shutter_words
from models.light.setup import Setup
from models.words.said import listed
from models.words.setup import away_words, clock_words, stops_said
from models.words.setup_answer import light_names

CHECK_WORDS: dict[Check, str] = {
    "auto ISO off": "Auto ISO off",
    "mechanical shutter": "Mechanical shutter: a silent one fires no flash",
    "exposure preview off": "Exposure preview off, or the finder goes dark",
    "single frame": "Single frame: one press, one flash",
    "raw": "Raw",
}

RIGGING_WORDS: dict[Rigging, str] = {
    "brace the tilt": (
        "Let a bracket carry the modifier, not the flash's foot; tighten the tilt and strap the head, or it tips."
    ),
    "hold the umbrella": "Lock the shaft, turn the open side out of the wind, keep a hand on it.",
    "lock the tilt": "Tighten foot and tilt; try it with a shake before it goes up.",
}

CLOCK_NOTE = "Clock round the model, who looks at the camera at 12; 3 is the model's right hand, camera left."


def camera_lines(card: DialCard) -> Iterator[str]:
    """What the camera is set to."""
    yield f"Mode {card.mode}, {card.settings.words}"
    yield card.white_balance
    if card.channel is not None:
        yield f"Radio channel {card.channel}, this station's own"
    yield from (CHECK_WORDS[check] for check in card.checks)


def light_lines(card: LightCard) -> Iterator[str]:
    """What one flash is set to and where it goes."""
    several = f", {card.units} together" if card.units > 1 else ""
    yield f"{card.role[0].upper()}{card.role[1:]}: {card.name}{several}, {card.rung.words}"
    yield f"Zoom {card.zoom_mm:.0f} mm" if card.zoom_mm is not None else "Zoom as the modifier was measured; not noted"
    on = [part for part in (card.modifier, card.grid, card.gel and f"{card.gel} gel") if part]
    if on:
        yield f"With {listed(on)}"
    where = f"{clock_words(card.clock_half_hours)}, {away_words(ground_m(card.distance_m, card.height_m))}"
    yield f"{where}; {metres_words(card.distance_m)} m to the face, {metres_words(card.height_m)} m high"
    yield "In somebody's hand." if card.held else "On a stand, with a hand on it."
    yield RIGGING_WORDS[card.rigging]


def redial_head(line: Redial, setup: Setup, at: str) -> str:
    """'16:45, 2/3 stop darker: shutter 1/100 s, then ISO 400', the camera's part of a line; `at` is the local time.

    The line that it starts with says all settings, not the way there: '16:40: 1/200 s, f/16, ISO 160'.
    """
    if not line.moved_stops:
        return f"{at}: {line.solved.setup.settings.words}"
    moved = f"{stops_said(abs(line.moved_stops))} {'brighter' if line.moved_stops > 0 else 'darker'}"
    return f"{at}, {moved}: {', then '.join(turn_words(turn) for turn in line.turns) or 'as they are'}"


def turn_words(turn: Turn) -> str:
    """'shutter 1/100 s', 'f/4', 'ISO 400'."""
    if turn.dial == "shutter":
        return f"shutter {shutter_words(turn.after)}"
    return f"f/{turn.after:.3g}" if turn.dial == "aperture" else f"ISO {turn.after:.0f}"


def powers_words(turns: Sequence[PowerTurn], setup: Setup) -> str:
    """'Key 1/8, fill 1/16 from 1.2 m.'"""
    if not turns:
        return "Powers stay."
    names = light_names(setup)
    said = ", ".join(f"{names[turn.place]} {turn.rung.words}{_moved(turn)}" for turn in turns)
    return f"{said[0].upper()}{said[1:]}."


def _moved(turn: PowerTurn) -> str:
    return f" from {metres_words(turn.distance_m)} m" if turn.moved_m else ""
