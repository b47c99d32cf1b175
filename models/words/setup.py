"""Lights round one model, in words: where each stands, what it gives, the two ratios, what cannot be had, heat."""

from __future__ import annotations

from collections.abc import Iterator

from models.light.beam import ApparentSize, Beam
from models.light.heat import HeatWay
from models.light.placing import PACE_M, clock_half_hours, paces
from models.light.power import fraction_words
from models.light.series import metres_words, stops_words
from models.light.setup import Light, LightFigures, Ratio, SetupFigures
from models.light.solve import Solved, SolvedLight
from models.light.working import Why

RATIO_WORDS = {
    "key:fill": "Key to fill, flash against flash",
    "face": "Face, key and fill together against the fill, the light already there counted as fill",
}

FILLED_BY_WHAT_IS_THERE = "Lit side of the face against its shadow side, which only the light already there fills"

COVER_WORDS = {
    "less than a head": "covers less than a head",
    "head": "covers a head and its hair",
    "half figure": "covers a half figure",
    "full figure": "covers a full figure",
}

WHY_WORDS: dict[Why, str] = {
    "works": "it works",
    "not known": "the light is not known",
    "ambient exposes": "the light already there exposes the face; no flash is wanted",
    "too weak": "a flash is too weak at full power",
    "too strong": "a flash is too strong at its lowest power",
    "lights too far apart": "no shutter time keeps all lights on their power ladders: move one",
    "too bright for the camera": "too bright for the camera's dials",
    "too dark for the camera": "too dark for the camera's dials",
}

HEAT_RULE = (
    "Each flash counts into the printed limit of its powers, which empties evenly over the printed rest: our planning "
    "rule, common practice. What the manual says decides."
)


def stops_said(stops: float) -> str:
    """'2/3 stop', '1 stop', '1.4 stops'."""
    return f"{stops_words(stops)} {'stop' if abs(stops) < 1.05 else 'stops'}"


def clock_words(half_hours: int) -> str:
    """'10 o'clock' or 'half past 10', on the clock of a model who looks at the camera at 12."""
    hour = half_hours // 2 % 12 or 12
    return f"half past {hour}" if half_hours % 2 else f"{hour} o'clock"


def paces_words(count: float) -> str:
    """'half a pace', '1 pace', '2 1/2 paces'."""
    whole, half = divmod(round(count * 2), 2)
    if not whole:
        return "half a pace"
    return f"{whole}{' 1/2' if half else ''} {'pace' if (whole, half) == (1, 0) else 'paces'}"


def away_words(ground_m: float) -> str:
    """Along the ground, in paces; what is well under half a pace is no pace: 'under half a pace'."""
    return "under half a pace" if ground_m < 0.4 * PACE_M else paces_words(paces(ground_m))


def side_words(axis_deg: float) -> str:
    """'at the camera', 'camera left', 'camera right, behind the model', 'behind the model'."""
    if abs(axis_deg) < 7.5:
        return "at the camera"
    if abs(axis_deg) > 172.5:
        return "behind the model"
    side = "camera right" if axis_deg > 0 else "camera left"
    return f"{side}, behind the model" if abs(axis_deg) > 97.5 else side


def place_words(light: Light) -> str:
    """'key, 10 o'clock, 2 paces (1.5 m), camera right, 2 m high, 1.6 m to the face'."""
    where = f"{clock_words(clock_half_hours(light.axis_deg))}, {away_words(light.ground_m)}"
    return (
        f"{light.role}, {where} ({metres_words(light.ground_m)} m), {side_words(light.axis_deg)}, "
        f"{metres_words(light.height_m)} m high, {metres_words(light.distance_m)} m to the face"
    )


def gives_words(figures: LightFigures) -> str:
    """'Gives f/5.6 at the subject, the working aperture.'"""
    if figures.over_stops is None:
        return "Off."
    over = figures.over_stops
    against = f"{stops_said(abs(over))} {'over' if over > 0 else 'under'} the working aperture"
    return f"Gives f/{figures.aperture:.1f} at the subject, {'the working aperture' if abs(over) < 0.05 else against}."


def ratio_words(ratio: Ratio, *, fill_fires: bool = True) -> str:
    """'Key to fill, flash against flash: 1 stop, 2:1.'; fill_fires: a flash fills, not ambient light alone."""
    what = RATIO_WORDS[ratio.kind] if fill_fires else FILLED_BY_WHAT_IS_THERE
    return f"{what}: {stops_said(ratio.stops)}, {ratio.to_one:.1f}:1."


def beam_words(beam: Beam) -> str:
    """'About 0.7 m across (grid, full angle 20°): covers a head and its hair.'"""
    covers = COVER_WORDS[beam.covers]
    if beam.wide_deg == beam.tall_deg:
        return f"About {beam.wide_m:.1f} m across ({beam.by}, full angle {beam.wide_deg:.0f}°): {covers}."
    return (
        f"About {beam.wide_m:.1f} m by {beam.tall_m:.1f} m ({beam.by}, {beam.wide_deg:.0f}° along the long side and "
        f"{beam.tall_deg:.0f}° along the short): lying flat it {covers}."
    )


def looks_words(looks: ApparentSize) -> str:
    """'From the face 11° across: as big as a dinner plate at that distance.'"""
    return f"From the face {looks.angle_deg:.0f}° across: as big as {looks.as_big_as} at that distance."


def ready_words(figures: LightFigures | SetupFigures) -> str:
    """'Ready again in 0.7 s, 1.1 s on tired cells; about 600 flashes a set.'"""
    count = figures.flashes_per_set if isinstance(figures, LightFigures) else figures.fewest_flashes
    per_set = f"; about {count} flashes a set" if count else ""
    return f"Ready again in {figures.recycle_s:.1f} s, {figures.recycle_tired_s:.1f} s on tired cells{per_set}."


def setup_lines(figures: SetupFigures) -> Iterator[str]:
    """What is true of all lights together."""
    fill_fires = any(one.light.role == "fill" and one.share for one in figures.lights)
    for ratio in (figures.key_fill, figures.face):
        if ratio is not None:
            yield ratio_words(ratio, fill_fires=fill_fires)
    if figures.ambient_share is not None:
        yield f"The light already there gives {100 * figures.ambient_share:.0f} % of the exposure on the face."
    if figures.face_over_stops is not None and abs(figures.face_over_stops) >= 0.05:
        over = figures.face_over_stops
        yield f"All light on the face comes {stops_said(abs(over))} {'over' if over > 0 else 'under'} these settings."
    yield ready_words(figures)


def solved_lines(solved: Solved) -> Iterator[str]:
    """What to set, what had to move, and which light cannot."""
    for one in solved.lights:
        yield _solved_line(one)
    if solved.ambient_exposes:
        yield "The light already there exposes the face alone: key and fill stay off."
    elif solved.ambient_fills:
        yield "The light already there fills more than this face ratio leaves: fill off, and the ratio comes smaller."


def cannot_words(one: SolvedLight) -> str:
    """'The key cannot: at full power and 0.7 m it lacks 1.3 stops.'"""
    off, metres = stops_said(abs(one.cannot_stops)), metres_words(one.light.distance_m)
    if one.cannot_stops > 0:
        return f"The {one.light.role} cannot: at full power and {metres} m it lacks {off}."
    return f"The {one.light.role} cannot: at its lowest power and {metres} m it gives {off} too much."


def waits_words(seconds: float) -> str:
    """When the next flash is due by heat."""
    if seconds <= 0:
        return "By its heat limit the next flash may come now."
    minutes, rest = divmod(round(seconds), 60)
    wait = f"{minutes} min {rest} s" if minutes else f"{rest} s"
    return f"Let it cool for {wait} before the next flash."


def in_a_row_words(flashes: int | None, every_s: float) -> str:
    """How many flashes fit in a row."""
    if flashes is None:
        return f"One flash every {every_s:.0f} s meets no printed heat limit that we know of."
    return f"One flash every {every_s:.0f} s: {flashes} in a row, then the printed rest."


def heat_way_words(way: HeatWay) -> str:
    """One way to fire more."""
    count = f"{way.flashes} in a row" if way.flashes is not None else "no printed end"
    enough = "" if way.enough else "; not enough by itself"
    if way.kind == "swap units":
        return f"Swap two units from shooter to shooter: {count}{enough}."
    if way.kind == "gang two":
        return f"Gang two units at {fraction_words(way.power)} power each: {count}{enough}."
    return f"Go to the fastest sync speed with a wider aperture, {fraction_words(way.power)} power: {count}{enough}."


def _solved_line(one: SolvedLight) -> str:
    if one.cannot_stops:
        return cannot_words(one)
    role = one.light.role[0].upper() + one.light.role[1:]
    if not one.light.power:
        return f"{role}: off."
    moved = ""
    if one.moved_m:
        way = "nearer" if one.moved_m < 0 else "further off"
        moved = f", moved {metres_words(abs(one.moved_m))} m {way} to {metres_words(one.light.distance_m)} m"
    return f"{role}: {one.rung.words}{moved}."
