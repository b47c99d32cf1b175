"""When a setup works at a spot: over the day in words, over a span line by line, over the year in cells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from models.clock import from_unix_s, local_day, time_words, to_local, unix_s, zone_short
from models.drawing.year_map import draw_year_map
from models.light.exposure import EvFigure
from models.light.redial import redials
from models.light.setup import Setup, choice_of
from models.light.solve import Solved, solve
from models.light.wanted import Wanted
from models.light.working import WHYS, Why, Working, working_over
from models.planning.answers import Moment
from models.planning.grids import day_steps
from models.planning.light import Series, SpotLight, light_series
from models.planning.moments import year_sky
from models.planning.now import behind_of, face_of
from models.planning.rules.typed import read_ends
from models.planning.sentence import bearing_words
from models.planning.setups.keeping import get_setup
from models.planning.setups.kit import kit_notes, setup_of, whole_kit
from models.planning.setups.lit import Lit, read_lit
from models.planning.spot_answers import Drawing
from models.planning.year import Year, year_at, year_map_of
from models.store.engine import Store
from models.store.setups import KeptSetup
from models.store.spots import Spot
from models.words.dial_card import powers_words, redial_head
from models.words.said import Said, listed, said
from models.words.setup import WHY_WORDS
from models.words.setup_answer import face_works, light_names, moves_words, short_verdict

STEP_MIN = 5
USUAL_SPAN = "90min"
LONGEST_SPAN = timedelta(hours=6)
MINUTE_S = 60.0
NOT_OTHERWISE = "another reason, or no such time"
AS_IT_STANDS: tuple[Why, ...] = ("works", "not known", "ambient exposes")
SHOWN_IN_HAND = (WHYS.index("works"), WHYS.index("too weak"))

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the day in which it works, or for one reason does not. works: as it stands; moves: once lights are
    moved."""

    start: str
    end: str
    works: bool
    moves: bool
    words: str


@dataclass(frozen=True, slots=True)
class WhenPage:
    """zone: in force that day. lines: what to change from the moment on, each with its local time.
    hours: of the year by reason, most first."""

    setup: KeptSetup
    spot: Spot
    moment: Moment
    looking: str
    answer: Said
    gone: tuple[str, ...]
    spans: tuple[Span, ...]
    zone: str
    until: str
    lines: tuple[str, ...]
    year: Drawing | None
    hours: tuple[tuple[str, int], ...]


def when_page(store: Store, setup_id: int, spot: Spot, moment: Moment, asked: Mapping[str, str]) -> WhenPage:
    """asked: `looking`, and `until` when the re-dial lines end. Raises Missing, InsideBuilding, or InputProblem."""
    kept, whole = get_setup(store, setup_id), whole_kit(store)
    lit = read_lit(store, asked, spot, moment)
    gone, _ = kit_notes(kept, whole)
    looking = "" if lit.looking_deg is None else bearing_words(lit.looking_deg)
    until = read_ends("until", asked.get("until", "").strip() or USUAL_SPAN, moment.instant, moment.zone)
    until = min(until, moment.instant + LONGEST_SPAN)
    shown_until = f"{to_local(until, moment.zone):%H:%M}"
    if gone or lit.light is None:
        answer = said("No figures: ", "kit that this setup names is gone", ".")
        return WhenPage(kept, spot, moment, looking, answer, gone, (), _zones_said(moment), shown_until, (), None, ())
    setup = setup_of(kept, whole)
    spans = day_spans(setup, kept.wanted, lit.light, moment, lit.looking_deg)
    working = year_working(setup, kept.wanted, lit.light, moment, lit.looking_deg)
    return WhenPage(
        setup=kept,
        spot=spot,
        moment=moment,
        looking=looking,
        answer=_answer(spot, moment, spans, looking),
        gone=gone,
        spans=spans,
        zone=_zones_said(moment),
        until=shown_until,
        lines=redial_lines(setup, kept.wanted, lit.light, moment, lit.looking_deg, unix_s(until)),
        year=_year_drawn(setup, working, lit, moment),
        hours=tuple(_hours(working)),
    )


def day_spans(
    setup: Setup, wanted: Wanted, light: SpotLight, moment: Moment, looking_deg: float | None
) -> tuple[Span, ...]:
    """The local day in stretches, in order. What does not work as the setup stands is told by the rule of the setup's
    own page: whether it works once lights are moved, and which."""
    steps = day_steps(moment.local.date(), moment.zone, STEP_MIN)
    subject, behind = _evs(light, steps, moment.oktas, looking_deg)
    reasons = [WHYS[reason] for reason in working_over(setup, wanted, subject, behind).why.tolist()]
    behinds = [None] * len(steps) if behind is None else behind.tolist()

    @cache
    def verdict(why: Why, face_ev: float, behind_ev: float | None) -> tuple[bool, bool, str]:
        moved = ""
        if why not in AS_IT_STANDS:
            there = None if behind_ev is None else EvFigure(behind_ev)
            moved = short_verdict(solve(setup, wanted, EvFigure(face_ev), there))
        return why == "works", bool(moved), moved or WHY_WORDS[why]

    verdicts = [verdict(*at) for at in zip(reasons, subject.tolist(), behinds, strict=True)]
    return tuple(_spans(steps, verdicts, moment.zone))


def redial_lines(
    setup: Setup, wanted: Wanted, light: SpotLight, moment: Moment, looking_deg: float | None, until_s: float
) -> tuple[str, ...]:
    """What to change from the moment on, whenever the surroundings have moved 2/3 stop; minute by minute."""
    lines = timed_redials(setup, wanted, light, moment, looking_deg, until_s)
    return tuple(f"{line.camera}. {line.flashes}" for line in lines)


@dataclass(frozen=True, slots=True)
class TimedRedial:
    """A re-dial line. at: UTC. camera: what is turned on it, flashes: what on them. changes: anything is turned."""

    at: datetime
    camera: str
    flashes: str
    changes: bool


def timed_redials(
    setup: Setup, wanted: Wanted, light: SpotLight, moment: Moment, looking_deg: float | None, until_s: float
) -> tuple[TimedRedial, ...]:
    """The same with the instant of each line."""
    steps = np.arange(unix_s(moment.instant), until_s + 1, MINUTE_S)
    subject, behind = _evs(light, steps, moment.oktas, looking_deg)
    lines = redials(setup, wanted, subject.tolist(), None if behind is None else behind.tolist())
    found = []
    for line in lines:
        needs = _needs_said(line.solved, setup)
        found.append(
            TimedRedial(
                at=from_unix_s(steps[line.at]),
                camera=redial_head(line, setup, _clock_said(steps[line.at], moment.zone)),
                flashes=powers_words(line.powers, setup) + needs,
                changes=bool(line.turns or line.powers or needs) or not line.moved_stops,
            )
        )
    return tuple(found)


def evs_along(
    light: SpotLight, steps: Floats, oktas: int, looking_deg: float | None
) -> tuple[Series, Floats, Floats | None]:
    """The light at each instant (unix seconds), and EV100 on the face and behind it, None for any bearing."""
    series = light_series(light, steps, oktas, () if looking_deg is None else (looking_deg,))
    face = face_of(light, series, (oktas, 0.0), looking_deg)[0]
    return series, face, None if looking_deg is None else behind_of(light, series, (oktas, 0.0), looking_deg)[0]


def year_working(setup: Setup, wanted: Wanted, light: SpotLight, moment: Moment, looking_deg: float | None) -> Working:
    """(days, 96) by local quarter hours."""
    year = year_at(light, moment.local.year, year_sky(moment)[0], looking_deg)
    return working_of(setup, wanted, year)


def working_of(setup: Setup, wanted: Wanted, year: Year) -> Working:
    return working_over(setup, wanted, year.face_ev, year.behind_ev)


def _evs(light: SpotLight, steps: Floats, oktas: int, looking_deg: float | None) -> tuple[Floats, Floats | None]:
    return evs_along(light, steps, oktas, looking_deg)[1:]


def _spans(steps: Floats, verdicts: list[tuple[bool, bool, str]], zone: str) -> Iterator[Span]:
    start = 0
    for verdict, group in groupby(verdicts):
        end = start + len(list(group))
        first, last = steps[start], steps[min(end, len(steps) - 1)]
        if last > first:
            clock = [f"{to_local(from_unix_s(at), zone):%H:%M}" for at in (first, last)]
            if last == steps[-1]:
                clock[1] = "24:00"
            yield Span(clock[0], clock[1], *verdict)
        start = end


def _answer(spot: Spot, moment: Moment, spans: tuple[Span, ...], looking: str) -> Said:
    good = listed(_stretches(span for span in spans if span.works))
    moving = listed(_stretches(span for span in spans if span.moves))
    day = f"{moment.local:%A} {moment.local.day} {moment.local:%B %Y}"
    zone = _zones_said(moment)
    there = f"{day}, {spot.name}{f', camera looking {looking}' if looking else ''}, {moment.oktas} of 8 covered: "
    if good:
        also = f"; {moving} only if lights are moved or one is left out, as the table says" if moving else ""
        return said(there, f"it works {good} {zone} as it stands", f"{also}.")
    if moving:
        only = f"it works only if lights are moved or one is left out, {moving} {zone}"
        return said(there, only, "; the table says which. As it stands it works at no time of this day.")
    return said(there, "it works at no time of this day", ", lights moved or not.")


def _clock_said(at_s: float, zone: str) -> str:
    """'16:45 CEST'."""
    instant = from_unix_s(at_s)
    return time_words(instant, zone)


def _zones_said(moment: Moment) -> str:
    """'CEST'; 'CEST, then CET' on the day the clocks change."""
    start, end = local_day(moment.local.date(), moment.zone)
    names = dict.fromkeys(zone_short(at, moment.zone) for at in (start, end - timedelta(minutes=1)))
    return ", then ".join(names)


def _stretches(spans: Iterable[Span]) -> list[str]:
    """'09:00 to 16:20', those that follow one another as one."""
    ends: list[list[str]] = []
    for span in spans:
        if ends and ends[-1][1] == span.start:
            ends[-1][1] = span.end
        else:
            ends.append([span.start, span.end])
    return [f"{start} to {end}" for start, end in ends]


def _needs_said(solved: Solved, kept: Setup) -> str:
    """By the rule of the setup's own page, and from where its lights stand as kept."""
    if solved.ambient_exposes:
        return ""
    if not face_works(solved):
        return " It does not work then."
    moves = moves_words(solved, kept)
    failing = [f"the {name}" for name, one in zip(light_names(kept), solved.lights, strict=True) if one.cannot_stops]
    without = f" It works without {listed(failing)}." if failing else ""
    return (f" For this {moves}." if moves else "") + without


def _year_drawn(setup: Setup, working: Working, lit: Lit, moment: Moment) -> Drawing | None:
    """Stops in hand of the weakest light where that is what decides, blank where something else does."""
    if lit.light is None or lit.now is None:
        return None
    year = year_at(lit.light, moment.local.year, year_sky(moment)[0], lit.looking_deg)
    values = np.where(np.isin(working.why, SHOWN_IN_HAND), working.stops_in_hand, np.nan)
    figures = (f"{moment.local.day} {moment.local:%b}", f"{moment.local:%H:%M}")
    drawn = replace(
        year_map_of(year, lit.light, moment, choice_of(setup.lights[0], setup), figures, "reserve"),
        title=f"When the setup works through {moment.local.year} at {lit.light.spot.name}",
        values=values,
        gap_words=NOT_OTHERWISE,
        id_prefix="setup-year",
    )
    caption = (
        "Stops in hand of the weakest light at the sync speed, by day and local hour, no light moved, "
        f"under {year_sky(moment)[0]} of 8 cloud. Below zero it is too weak."
    )
    return Drawing(draw_year_map(drawn, "wide"), draw_year_map(drawn, "narrow"), caption)


def _hours(working: Working) -> Iterator[tuple[str, int]]:
    """Hours of the year by reason; a cell is a quarter of an hour."""
    counts = np.bincount(working.why.ravel(), minlength=len(WHYS)) / 4
    for reason in np.argsort(-counts):
        if counts[reason] >= 1 and WHYS[reason] != "not known":
            yield WHY_WORDS[WHYS[reason]], round(float(counts[reason]))
