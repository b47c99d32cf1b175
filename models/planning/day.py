"""One local day at a spot: light and reserve in steps, the runs of its states, golden and blue where they reach."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from models.clock import from_unix_s, time_words, to_local, unix_s, zone_short
from models.drawing.day_strip import DayMoment, DayStrip, LightBand, StateRun
from models.light.flash import Alternative, Choice, capacity_ev, reserve, reserve_series
from models.light.series import stops_words
from models.planning.answers import Moment, TurningPoint
from models.planning.facings import behind_ev, blue_reaches, face_ev, sun_arrives
from models.planning.grids import day_steps
from models.planning.light import Series, SpotLight, light_series
from models.planning.now import Now, behind_of, face_of, sky_of
from models.planning.sentence import bearing_words
from models.planning.spot_answers import BandSaid
from models.planning.states import Run, day_runs, state_words, turning_points
from models.sky.events import Band, DayEvents
from models.words.said import ev_words, stops_in_hand_words

STEP_MIN = 5
LASTING_MIN = 30
LOOKS = 13
"""Instants of a band at which its light is looked for, both ends in."""


@dataclass(frozen=True, slots=True, eq=False)
class Day:
    """A spot's local day."""

    events: DayEvents
    looking_deg: float | None
    series: Series
    runs: tuple[Run, ...]
    turns: tuple[TurningPoint, ...]
    bands: tuple[BandSaid, ...]


def day_at(light: SpotLight, moment: Moment, events: DayEvents, looking_deg: float | None) -> Day:
    """The local date that holds the moment, at a spot."""
    bearings = () if looking_deg is None else (looking_deg,)
    series = light_series(light, day_steps(events.day, events.zone, STEP_MIN), moment.oktas, bearings)
    lamps_known = light.lamps_lx is not None
    runs = day_runs(light.spot, light.standing.skyline, events.day, moment.oktas, light.lighting_up_deg, lamps_known)
    bands = tuple(_bands(light, events, moment, bearings))
    return Day(events, looking_deg, series, runs, turning_points(runs, events.zone), bands)


def strip_of(
    light: SpotLight, day: Day, now: Now, moment: Moment, choice: Choice, looking_deg: float | None
) -> DayStrip:
    """What the day strip shows, doubts included."""
    face, doubt = face_of(light, day.series, sky_of(moment), looking_deg)
    behind = None if looking_deg is None else behind_of(light, day.series, sky_of(moment), looking_deg)[0]
    limit_ev, limit_words = _limit(choice, behind is not None)
    return DayStrip(
        title=f"Light through the day at {light.spot.name}",
        desc="EV at ISO 100 on the face and behind it, stops in hand, and the state of the light, hour by hour.",
        start=day.events.start,
        end=day.events.end,
        zone=day.events.zone,
        unix_s=day.series.unix_s,
        face_ev=face,
        face_doubt=doubt,
        behind_ev=behind,
        behind_doubt=None if behind is None else doubt,
        face_words="on the face" if behind is not None else "on the brightest side",
        behind_words="" if looking_deg is None else f"behind, looking {bearing_words(looking_deg)}",
        limit_ev=limit_ev,
        limit_words=limit_words,
        reserve_stops=reserve_series(choice, face, behind),
        reserve_doubt=np.hypot(doubt, capacity_ev(choice)[1]),
        states=tuple(StateRun(run.start, run.end, run.state, _run_words(run, moment)) for run in day.runs),
        bands=tuple(LightBand(band.start, band.end, f"{band.name} hour", band.reaches) for band in day.bands),
        moment=DayMoment(moment.instant, moment_figures(now, moment, choice)),
    )


def moment_figures(now: Now, moment: Moment, choice: Choice) -> tuple[str, ...]:
    """The figures of the moment pointed at, as short pieces."""
    behind = (f"behind {ev_words(now.behind.ev100)}",) if now.behind else ()
    return (
        time_words(moment.instant, moment.zone),
        f"face {ev_words(now.subject.ev100)}",
        *behind,
        stops_in_hand_words(reserve(choice, now.face, now.backdrop).stops),
    )


def until_words(day: Day, moment: Moment) -> str | None:
    """'until 17:05, when the sun leaves': the next turning point of the same day."""
    later = [point for point in day.turns if point.instant > moment.instant]
    return f"until {later[0].local_text} ({later[0].words})" if later else None


def later_with_more(day: Day, moment: Moment, choice: Choice) -> Alternative | None:
    """The first later time of the day with something in hand for half an hour on end; None where there is none."""
    face = face_ev(day.series.light, day.looking_deg)
    behind = None if day.looking_deg is None else behind_ev(day.series.light, day.looking_deg)
    stops = reserve_series(choice, face, behind)
    good = (stops >= 0) & (day.series.unix_s > unix_s(moment.instant))
    steps = LASTING_MIN // STEP_MIN
    lasting = np.convolve(good, np.ones(steps), "valid") == steps
    if not lasting.any():
        return None
    first = int(np.argmax(lasting))
    at = to_local(from_unix_s(day.series.unix_s[first]), moment.zone)
    return Alternative(f"Wait until {at:%H:%M}", float(stops[first : first + steps].min()))


def _limit(choice: Choice, behind: bool) -> tuple[float, str]:
    """Up to where the lines of the day may rise before the reserve is used up, the stops they go under taken off."""
    under = choice.surroundings_under
    stricter = max(under, choice.face_under) if behind else under
    words = f"what this flash can beat, {stops_words(stricter)} under"
    one = not behind or abs(under - choice.face_under) < 0.01
    return capacity_ev(choice)[0] - stricter, words if one else f"{words} (the stricter of the two)"


def _run_words(run: Run, moment: Moment) -> str:
    words = state_words(run.state, moment.oktas)
    return "closed sky" if words == "under a closed sky" else ""


def _bands(light: SpotLight, events: DayEvents, moment: Moment, bearings: tuple[float, ...]) -> Iterator[BandSaid]:
    for band in sorted((*events.golden, *events.blue), key=lambda band: band.start):
        if band.name == "golden":
            reaches = _golden_reaches(light, band, moment.oktas, bearings)
        else:
            reaches = blue_reaches(light, events.day.month)
        yield BandSaid(band.name, band.start, band.end, _band_words(band, events.zone, reaches), reaches)


def _golden_reaches(light: SpotLight, band: Band, oktas: int, bearings: tuple[float, ...]) -> bool:
    """The sun above 0 degrees and its light on the subject or on what is behind it."""
    series = light_series(light, np.linspace(unix_s(band.start), unix_s(band.end), LOOKS), oktas, bearings)
    return bool(((series.elevation_deg > 0) & sun_arrives(series)).any())


def _band_words(band: Band, zone: str, reaches: bool) -> str:
    start, end = to_local(band.start, zone), to_local(band.end, zone)
    ends = "goes on past midnight" if band.goes_on else f"to {end:%H:%M}"
    here = "" if reaches else ", not at this spot"
    return f"{band.name} hour {start:%H:%M} {ends} {zone_short(band.start, zone)}{here}"
