"""The footfall of a spot: the answer for an hour, the week, the counts behind it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from models.clock import instant_words
from models.drawing.week_grid import GridCell, WeekGrid, draw_week_grid
from models.planning.answers import Moment
from models.planning.moments import moment_words
from models.planning.spot_answers import Drawing
from models.planning.street.ask import GapAsked, read_gap
from models.planning.street.counts import is_holiday_by, rates_of
from models.planning.street.near import hints_by
from models.store import street as kept
from models.store.engine import Store
from models.store.spots import Spot, get_spot
from models.store.street import KeptCount
from models.street.footfall import DAY_KINDS, DayKind, Footfall, IsHoliday, Rate, day_kind
from models.street.gaps import clear_gap
from models.words.footfall import COUNTING_CAUTIONS, footfall_answer, footfall_short
from models.words.said import Said
from models.words.street import DAY_KIND_WORDS, counted_words, gap_words, hint_words, hour_words, rounded, sources_of

MOST_SHOWN = 100
SOURCES_SHOWN = sources_of("Footfall", "Waiting")


@dataclass(frozen=True, slots=True)
class CountRow:
    """A count as it is listed. figures: '42 people in 10 min', pace: the same for an hour."""

    id: int
    version: int
    when: str
    kind: str
    figures: str
    pace: str
    whence: str
    note: str


@dataclass(frozen=True, slots=True)
class HourFigures:
    """What holds for the hour of the moment. rate: None where nobody counted then."""

    kind: DayKind
    hour: int
    rate: Rate | None
    mean_wait_s: float | None
    spoilt_share: float | None


@dataclass(frozen=True, slots=True)
class CountsPage:
    """rows: the latest first, no more than MOST_SHOWN of `total`. noted: the spot's own note, and near: what stands
    near it on the map; neither is a count."""

    spot: Spot
    moment: Moment
    answer: Said
    hour: HourFigures
    counted: bool
    counted_words: str
    asked: GapAsked
    week: Drawing
    hours: tuple[tuple[str, str, str], ...]
    rows: tuple[CountRow, ...]
    total: int
    noted: str
    near: tuple[str, ...]
    cautions: tuple[str, ...]
    working: tuple[str, ...]
    sources: tuple[tuple[str, str], ...]


def counts_page(store: Store, spot_id: int, moment: Moment, asked: Mapping[str, str]) -> CountsPage:
    """The footfall of a spot in the hour of the moment. Raises Missing, or InputProblem naming a parameter."""
    gap = read_gap(asked)
    with store.reading() as s:
        spot = get_spot(s, spot_id)
        counts = kept.counts_at(s, spot_id)
        is_holiday, hints = is_holiday_by(s), hints_by(s, spot)
    found = rates_of(counts, spot.zone, is_holiday)
    kind, hour = day_kind(moment.local.date(), is_holiday), moment.local.hour
    rate = found.at(kind, hour)
    when = f"{spot.name}, {moment_words(moment)}"
    return CountsPage(
        spot=spot,
        moment=moment,
        answer=footfall_answer(when, kind, hour, rate, gap.gap_s, gap.share_crossing),
        hour=_figures(kind, hour, rate, gap),
        counted=rate is not None,
        counted_words=counted_words(found),
        asked=gap,
        week=_week(spot, found, kind, hour),
        hours=tuple(_hour_row(key, each, gap) for key, each in found.rates.items()),
        rows=tuple(_row(count, spot.zone, is_holiday) for count in counts[:MOST_SHOWN]),
        total=len(counts),
        noted=spot.footfall_note,
        near=tuple(hint_words(hint.kind, hint.distance_m, hint.name) for hint in hints),
        cautions=COUNTING_CAUTIONS,
        working=_working(rate, gap),
        sources=SOURCES_SHOWN,
    )


def _figures(kind: DayKind, hour: int, rate: Rate | None, gap: GapAsked) -> HourFigures:
    if rate is None:
        return HourFigures(kind, hour, None, None, None)
    wait = clear_gap(rate.parties_per_s, gap.gap_s, gap.share_crossing)
    return HourFigures(kind, hour, rate, wait.mean_wait_s if wait.expected else None, wait.spoilt_share)


def _week(spot: Spot, found: Footfall, kind: DayKind, hour: int) -> Drawing:
    rate = found.at(kind, hour)
    grid = WeekGrid(
        title=f"Who comes by at {spot.name}",
        desc=counted_words(found),
        columns=tuple(DAY_KIND_WORDS[each] for each in DAY_KINDS),
        cells={(DAY_KINDS.index(key[0]), key[1]): _cell(each) for key, each in found.rates.items()},
        chosen=(DAY_KINDS.index(kind), hour),
        figures=(hour_words(kind, hour), *_figure_pieces(rate)),
    )
    caption = "People an hour with their 80 % interval; the outlined hour is the one asked for."
    return Drawing(draw_week_grid(grid, "wide"), draw_week_grid(grid, "narrow"), caption)


def _figure_pieces(rate: Rate | None) -> tuple[str, ...]:
    """In pieces short enough for a phone."""
    if rate is None or rate.people == 0:
        return (footfall_short(rate).partition(" (")[0],)
    low, middle, high = (rounded(value) for value in (rate.low_per_h, rate.people_per_h, rate.high_per_h))
    return f"about {middle} people an hour", f"80 % between {low} and {high}"


def _cell(rate: Rate) -> GridCell:
    low, middle, high = (rounded(value) for value in (rate.low_per_h, rate.people_per_h, rate.high_per_h))
    if rate.people == 0:
        return GridCell(0.0, 0.0, rate.high_per_h, "0", f"up to {high}")
    return GridCell(rate.people_per_h, rate.low_per_h, rate.high_per_h, middle, f"{low}–{high}")


def _hour_row(key: tuple[DayKind, int], rate: Rate, gap: GapAsked) -> tuple[str, str, str]:
    return hour_words(*key), footfall_short(rate), gap_words(rate, gap.gap_s, gap.share_crossing).text


def _row(count: KeptCount, zone: str, is_holiday: IsHoliday) -> CountRow:
    what = count.of if count.number != 1 else {"people": "person", "parties": "party"}[count.of]
    pace = rounded(60 * count.number / count.minutes)
    return CountRow(
        id=count.id,
        version=count.version,
        when=instant_words(count.starts, zone),
        kind=DAY_KIND_WORDS[day_kind(count.local(zone).starts.date(), is_holiday)],
        figures=f"{count.number:,} {what} in {count.minutes:g} min",
        pace=f"{pace} an hour",
        whence=count.whence or "not said",
        note=count.note,
    )


def _working(rate: Rate | None, gap: GapAsked) -> tuple[str, ...]:
    """The formulas with the numbers of this hour in them."""
    if rate is None:
        return ("No count in such an hour: there is nothing to work out.",)
    wait = clear_gap(rate.parties_per_s, gap.gap_s, gap.share_crossing)
    q, t = wait.parties_per_s, wait.gap_s
    return (
        f"Rate = {rate.people:g} people counted in {rate.minutes:g} min, drawn to the spot's other hours as far as "
        f"they agree = {rate.people_per_h:.0f} an hour",
        f"q = {rate.people_per_h:.0f} / 1.5 / 3600 × {gap.share_crossing:g} = {q:.4f} parties a second across the line",
        f"Mean wait = (e^(q T) − 1 − q T) / q with T = {t:g} s = {wait.mean_wait_s:.1f} s",
        f"Frames spoilt = 1 − e^(−q T) = {100 * wait.spoilt_share:.0f} %",
    )
