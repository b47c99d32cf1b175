"""Options that several commands share: the moment, the words of the flash's sentence, those of a what-if."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click
from flask import current_app

from models.planning.answers import Moment
from models.planning.moments import read_moment
from models.planning.rules.what_if import COUNTED, FOOTPRINT, TICKED
from models.planning.sentence import PARAMETERS

Command = Callable[..., Any]
HELP = {
    "looking": "Way the camera looks: 270, west, or any.",
    "flash": "A flash of the kit.",
    "units": "How many flashes: 1 to 4.",
    "zoom": "Zoom of the head, mm.",
    "modifier": "A modifier of the kit.",
    "distance": "Flash to face: 2, 2 m, 6 ft.",
    "camera": "A camera of the kit.",
    "trigger": "A trigger of the kit.",
    "battery": "A battery set of the kit.",
    "under": "Stops the surroundings go under: 2/3.",
    "face": "Stops the light already on the face goes under: 2/3.",
}

as_json = click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")

WHAT_IF_HELP = {name: f"How many {counted.label}." for name, counted in COUNTED.items()}
WHAT_IF_HELP |= {name: f"yes: {ticked.done}; no: {ticked.left}." for name, ticked in TICKED.items()}
WHAT_IF_HELP |= {
    "lasts": "Packed up at 18:30, or after 90 min.",
    "width": "Width left for walkers: 1.8 m.",
    "meet": "Where the walk begins: 52.53,5.23 or a spot.",
    "fallback": "The spot to go to when it fails.",
}


def with_moment(command: Command) -> Command:
    """--on, --at, --sky, --fold."""
    for option in (
        click.option("--fold", type=click.Choice(["0", "1"]), help="First (0) or second (1) turn of a repeated hour."),
        click.option("--sky", help="Eighths of the sky covered by cloud, 0 to 8."),
        click.option("--at", help="Local time: 16:40, 4.40 pm, or with its day 2026-10-17 16:40."),
        click.option("--on", help="Day: 2026-10-17, 17.10., 17 Oct, tomorrow."),
    ):
        command = option(command)
    return command


def with_sentence(command: Command) -> Command:
    """One option for each word of the sentence."""
    for name in reversed(PARAMETERS):
        command = click.option(f"--{name}", help=HELP.get(name, f"The sentence's {name}."))(command)
    return command


def with_what_if(command: Command) -> Command:
    """One option for each word of the what-if."""
    for name in reversed(FOOTPRINT):
        command = click.option(f"--{name.replace('_', '-')}", name, help=WHAT_IF_HELP[name])(command)
    return command


def moment_of(zone: str, on: str | None, at: str | None, sky: str | None, fold: str | None) -> Moment:
    """The moment meant; --at may carry the day in front of the time."""
    day, _, clock = (at or "").strip().replace("T", " ").rpartition(" ")
    if day and clock[:1].isdigit() and not on:
        on, at = day, clock
    return read_moment(on, at, sky, zone, current_app.config["CLOCK"](), fold)


def said(options: dict[str, str | None]) -> dict[str, str]:
    """The options that were given."""
    return {name: value for name, value in options.items() if value is not None}
