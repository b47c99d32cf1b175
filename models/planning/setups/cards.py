"""The dial cards of a setup: one for the camera, one for each flash, as they go into a pocket."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from models.light.card import channels_for, dial_card
from models.light.setup import Setup
from models.planning.answers import Moment
from models.planning.moments import moment_words
from models.planning.setups.kit import kit_notes, setup_of, whole_kit
from models.planning.setups.lit import read_lit, solved_in
from models.problems import InputProblem
from models.store.engine import Store
from models.store.setups import KeptSetup
from models.store.spots import Spot
from models.words.dial_card import CLOCK_NOTE, camera_lines, light_lines
from models.words.said import Said
from models.words.setup_answer import light_names, solved_answer

MOST_CHANNELS = 100


@dataclass(frozen=True, slots=True)
class Card:
    """head: what it is for; lines: what to set and check."""

    head: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardsPage:
    setup: KeptSetup
    spot: Spot | None
    moment: Moment | None
    when: str
    answer: Said | None
    gone: tuple[str, ...]
    cards: tuple[Card, ...]
    channel: int | None
    clock_note: str = CLOCK_NOTE


def cards_page(
    store: Store, kept: KeptSetup, asked: Mapping[str, str], spot: Spot | None, moment: Moment | None
) -> CardsPage:
    """asked: the light, `channel` (the first is taken). Raises InputProblem naming a parameter, or InsideBuilding."""
    whole, lit = whole_kit(store), read_lit(store, asked, spot, moment)
    when = moment_words(moment) if moment else ""
    gone, _ = kit_notes(kept, whole)
    if gone:
        return CardsPage(kept, spot, moment, when, None, gone, (), None)
    solved = solved_in(setup_of(kept, whole), kept.wanted, lit)
    channel = _channel(asked, solved.setup)
    now = lit.now
    card = dial_card(
        solved.setup,
        channel=channel,
        sun_elevation_deg=now.sun_elevation_deg if now else None,
        sun_reaches=bool(now and now.sun_reaches),
    )
    named = zip(light_names(solved.setup), card.lights, strict=True)
    flashes = tuple(_light_card(name, tuple(light_lines(light))) for name, light in named)
    cards = (Card("Camera", tuple(camera_lines(card))), *flashes)
    return CardsPage(kept, spot, moment, when, solved_answer(solved), (), cards, channel)


def _light_card(name: str, lines: tuple[str, ...]) -> Card:
    return Card(f"{name[0].upper()}{name[1:]}:{lines[0].partition(':')[2]}", lines[1:])


def _channel(asked: Mapping[str, str], setup: Setup) -> int | None:
    """None without a trigger."""
    first = channels_for([setup.trigger])[0]
    text = asked.get("channel", "").strip()
    if first is None or not text:
        return first
    most = setup.trigger.channels if setup.trigger and setup.trigger.channels else MOST_CHANNELS
    if not (text.isascii() and text.isdecimal() and len(text) < 4 and 1 <= int(text) <= most):
        raise InputProblem("channel", f"“{text}” is no channel of this trigger: give 1 to {most}.")
    return int(text)
