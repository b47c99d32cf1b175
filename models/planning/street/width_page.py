"""The clear width at a spot: what a station leaves, against what is asked for, and how tight it gets in an hour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from math import floor

from models.clock import to_local
from models.drawing.pavement_section import Asked, PavementSection, draw_pavement_section
from models.planning.answers import Moment
from models.planning.moments import moment_words
from models.planning.rules.findings import activity_names, spot_findings
from models.planning.rules.typed import WIDEST_M
from models.planning.rules.what_if import read_footprint
from models.planning.spot_answers import Drawing
from models.planning.street.counts import footfall_at, is_holiday_by
from models.planning.street.own_width import recorded_minima
from models.planning.street.width_ask import WidthAsked, read_width_asked, short_metres
from models.store.engine import Store
from models.store.spots import Spot, get_spot
from models.street.clearance import Clearance, Minimum, Pavement, clearance, deepest_station_m
from models.street.crowding import Crowding, before_and_with, crowding
from models.street.footfall import DayKind, Footfall, Rate, day_kind
from models.words import width as words
from models.words.findings import findings_line
from models.words.said import Said, said
from models.words.street import (
    GUIDES_NOTE,
    as_told,
    clearance_words,
    crowding_words,
    flow_words,
    metres,
    sources_of,
    verdict_words,
)

SOURCES_SHOWN = sources_of("Width", "Crowding")


@dataclass(frozen=True, slots=True)
class WidthPage:
    """left_m, before, beside: None where the width is not measured, or nobody counted in such an hour.

    obstructs: short of a minimum, or blocked in that hour. recorded: a rule of the place wants a width left. what_if:
    parameters that carry it into the rules.
    """

    spot: Spot
    moment: Moment
    answer: Said
    known: bool
    left_m: float | None
    before: Crowding | None
    beside: Crowding | None
    obstructs: bool
    recorded: bool
    finding: Said | None
    what_if: Mapping[str, str]
    verdicts: tuple[str, ...]
    hours: str
    asked: WidthAsked
    section: Drawing
    cautions: tuple[str, ...]
    working: tuple[str, ...]
    guides_note: str
    sources: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Hour:
    """Who comes by at the spot, and in the hour of the moment."""

    found: Footfall
    rate: Rate | None


def width_page(store: Store, spot_id: int, moment: Moment, asked: Mapping[str, str], now: datetime) -> WidthPage:
    """The width left at a spot in the hour of the moment. Raises Missing, or InputProblem naming a parameter."""
    with store.reading() as s:
        spot = get_spot(s, spot_id)
        found = footfall_at(s, spot)
        kind = day_kind(moment.local.date(), is_holiday_by(s))
        recorded = recorded_minima(s, spot, read_footprint({}, moment), to_local(now, spot.zone).date())
    widest_m = max((minimum.width_m for minimum in recorded), default=None)
    sentence = read_width_asked(asked, spot.pavement_width_m, widest_m)
    hour = _Hour(found, found.at(kind, moment.local.hour))
    own = (*recorded, *((sentence.own_rule,) if sentence.own_rule else ()))
    if sentence.pavement is None:
        return _unmeasured(spot, moment, sentence, own)
    judged = clearance(sentence.pavement, *own)
    return _measured(store, spot, moment, sentence, judged, hour, now, recorded=bool(recorded))


def _measured(
    store: Store,
    spot: Spot,
    moment: Moment,
    asked: WidthAsked,
    judged: Clearance,
    hour: _Hour,
    now: datetime,
    *,
    recorded: bool,
) -> WidthPage:
    pavement = judged.pavement
    before, beside = before_and_with(pavement, hour.rate.people_per_h) if hour.rate else (None, None)
    obstructs = bool(judged.missed) or (beside is not None and beside.crowd == "blocked")
    what_if = {"width": short_metres(_carried_m(judged.left_m))} | ({"obstruction": "yes"} if obstructs else {})
    return WidthPage(
        spot=spot,
        moment=moment,
        answer=_answer(spot, moment, judged, before, beside, hour.rate),
        known=True,
        left_m=judged.left_m,
        before=before,
        beside=beside,
        obstructs=obstructs,
        recorded=recorded,
        finding=_finding(store, spot, moment, what_if, now, short=bool(judged.missed)) if obstructs else None,
        what_if=what_if,
        verdicts=tuple(verdict_words(verdict) for verdict in judged.verdicts),
        hours=_hours(hour.found, pavement),
        asked=asked,
        section=_section(spot, judged, beside),
        cautions=words.WIDTH_CAUTIONS,
        working=tuple(_working(judged, before, beside)),
        guides_note=GUIDES_NOTE,
        sources=SOURCES_SHOWN,
    )


def _carried_m(left_m: float) -> float:
    """Down to the centimetre, so that a width that is short stays so in the rules."""
    return floor(min(left_m, WIDEST_M) * 100 + 1e-6) / 100


def _unmeasured(spot: Spot, moment: Moment, asked: WidthAsked, own: tuple[Minimum, ...]) -> WidthPage:
    nothing = PavementSection(title=f"The pavement at {spot.name}", desc="Not measured.", pavement=Pavement(0.0, 0.0))
    drawn = Drawing(draw_pavement_section(nothing, "wide"), draw_pavement_section(nothing, "narrow"), "Not measured.")
    return WidthPage(
        spot, moment, said(f"{spot.name}. ") + words.NOT_MEASURED, False, None, None, None, False, bool(own), None, {},
        tuple(map(words.unmeasured_words, own)), "",
        asked, drawn, words.WIDTH_CAUTIONS, (), GUIDES_NOTE, SOURCES_SHOWN,
    )  # fmt: skip


def _answer(
    spot: Spot, moment: Moment, judged: Clearance, before: Crowding | None, beside: Crowding | None, rate: Rate | None
) -> Said:
    start = said(f"{spot.name}: ") + clearance_words(judged) + said(f" {moment_words(moment)}: ")
    if before is None or beside is None or rate is None:
        return start + words.NOT_COUNTED_HOUR
    upper = crowding(judged.left_m, rate.high_per_h)
    return start + crowding_words(before, beside) + said(words.upper_end_words(beside, upper))


def _finding(
    store: Store, spot: Spot, moment: Moment, what_if: Mapping[str, str], now: datetime, *, short: bool
) -> Said:
    """What the rules have on record about obstructing the footway here."""
    footprint = read_footprint(what_if, moment)
    found = spot_findings(store, spot.id, footprint, today=to_local(now, spot.zone).date()).found
    of_it = tuple(each for each in found if each.activity == "obstruction")
    return words.obstructs_words(short) + findings_line(of_it, activity_names(of_it))


def _hours(found: Footfall, pavement: Pavement) -> str:
    tight: dict[DayKind, list[int]] = {}
    for (kind, hour), rate in found.rates.items():
        if crowding(pavement.left_m, rate.people_per_h).crowd != "room to pass":
            tight.setdefault(kind, []).append(hour)
    return words.tight_hours_words(tight, len(found.rates))


def _section(spot: Spot, judged: Clearance, beside: Crowding | None) -> Drawing:
    asked = tuple(
        Asked(verdict.minimum.width_m, (verdict.minimum.name, as_told(verdict.minimum.width_m)))
        for verdict in judged.verdicts
    )
    section = PavementSection(
        title=f"The pavement at {spot.name}, cut across",
        desc=clearance_words(judged).text,
        pavement=judged.pavement,
        figures=(f"{metres(judged.left_m)} left for walkers", beside.crowd if beside else "not counted at that hour"),
        asked=asked,
    )
    caption = "To scale. Broken lines are the widths asked for, laid from the kerb's allowance towards the wall."
    return Drawing(draw_pavement_section(section, "wide"), draw_pavement_section(section, "narrow"), caption)


def _working(judged: Clearance, before: Crowding | None, beside: Crowding | None) -> list[str]:
    """The sums with the numbers of this pavement in them, to the millimetre so that they add up."""
    p = judged.pavement
    lines = [
        f"Left = {p.width_m:.3f} m − {p.kerb_m:.3f} m kerb − {p.door_m:.3f} m door − {p.depth_m:.3f} m station "
        f"= {judged.left_m:.3f} m"
    ]
    for verdict in judged.verdicts:
        deepest = deepest_station_m(p, verdict.minimum)
        lines.append(f"{verdict.minimum.name}: the deepest station that leaves it is {metres(deepest)} deep")
    for name, level in (("Without the station", before), ("Beside it", beside)):
        if level is not None:
            lines.append(f"{name}: {flow_words(level.walkers_min_m, 1)}, walkway level {level.level}")
    return lines
