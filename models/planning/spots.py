"""The list of spots at a moment."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from math import ceil, inf

from models.exchange.geodesy import metres_between
from models.light.flash import reserve
from models.planning.answers import Moment, SpotRow, SpotsPage
from models.planning.kit import kit_of
from models.planning.moments import moment_words, sky_words
from models.planning.now import Reading
from models.planning.readings import readings_of
from models.planning.sentence import Sentence, read_sentence
from models.planning.standing import Inside
from models.planning.turns import town_turns
from models.problems import InputProblem
from models.store import spots as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.store.weather import any_between
from models.street.forecast import HOUR
from models.words.said import ev_words, listed, stops_in_hand_words

PER_PAGE = 50
MOST_BRIGHTNESS = 200
PATIENCE_S = 1.5
"""Longest that one answer waits for spots that were never worked out; the rest follows when asked again."""

INSIDE = "inside a building: move it, give its floor height, or note the roof over it"
WAITING = "being worked out"


def home_zone(store: Store) -> str:
    """The zone of the first spot by name, UTC where there is none yet."""
    with store.reading() as s:
        first = kept.list_spots(s, limit=1)
    return first[0].zone if first else "UTC"


def spots_page(
    store: Store,
    moment: Moment,
    *,
    sort: str = "name",
    here: tuple[float, float] | None = None,
    page: int = 1,
    ask: Mapping[str, str] | None = None,
) -> SpotsPage:
    """One page of the list, the last where it has fewer. Sorted by brightness or reserve, at most the first 200 spots
    by name are compared.

    Raises InputProblem: 'here' for a sort by distance from nowhere, or a parameter of the sentence.
    """
    if sort == "distance" and here is None:
        raise InputProblem("here", "say where you are first: press “from here”, or give latitude, longitude")
    sentence = sentence_or_none(store, ask or {})
    by_light = sort in ("brightness", "reserve")
    order = "distance" if sort == "distance" else "name"
    with store.reading() as s:
        total = kept.count_spots(s)
        compared = min(total, MOST_BRIGHTNESS) if by_light else total
        pages = max(1, ceil(compared / PER_PAGE))
        page = max(1, min(page, pages))
        limit, offset = (MOST_BRIGHTNESS, 0) if by_light else (PER_PAGE, (page - 1) * PER_PAGE)
        found = kept.list_spots(s, limit=limit, offset=offset, order_by=order, here=here)  # type: ignore[arg-type]
        own = moment.oktas_by.startswith("assumed") and any_between(s, moment.instant - HOUR, moment.instant)
    rows = rows_of(store, found, moment, sentence, here)
    pending = sum(row.state_words == WAITING for row in rows)
    if by_light:
        ranked = sorted(rows, key=_bright if sort == "brightness" else _in_hand, reverse=True)
        rows = tuple(ranked[(page - 1) * PER_PAGE : page * PER_PAGE])
    return SpotsPage(
        answer=_answer(moment, rows, total),
        moment=moment,
        moment_words=moment_words(moment),
        rows=rows,
        total=total,
        page=page,
        pages=pages,
        sort=sort,
        turning_points=town_turns(store, found[0], moment) if found else (),
        rests_on=" ".join(_rests_on(moment, sentence, own, left_out=total - compared)),
        pending=pending,
    )


def rows_of(
    store: Store,
    found: Sequence[Spot],
    moment: Moment,
    sentence: Sentence | None,
    here: tuple[float, float] | None = None,
) -> tuple[SpotRow, ...]:
    """A row for each spot, in order; when patience runs out the rest says that it is being worked out."""
    lit = readings_of(store, found, moment, PATIENCE_S, None if sentence is None else sentence.looking_deg)
    return tuple(_row(spot, reading, sentence, here) for spot, reading in zip(found, lit, strict=True))


def sentence_or_none(store: Store, ask: Mapping[str, str]) -> Sentence | None:
    """The flash sentence, None while there is no kit."""
    kit = kit_of(store)
    return read_sentence(ask, kit) if kit.flashes and kit.cameras else None


def _row(
    spot: Spot, lit: Reading | Inside | None, sentence: Sentence | None, here: tuple[float, float] | None
) -> SpotRow:
    away = metres_between(here, (spot.latitude_deg, spot.longitude_deg)) if here else None
    place = (spot.id, spot.name, spot.latitude_deg, spot.longitude_deg, spot.zone)
    if not isinstance(lit, Reading):
        return SpotRow(*place, None, INSIDE if lit else WAITING, False, None, None, away)
    known = sentence is not None and lit.subject.unknown is None
    stops = reserve(sentence.choice, lit.face, lit.backdrop).stops if sentence and known else None
    return SpotRow(*place, lit.state, lit.state_words, lit.too_close, lit.subject, stops, away)


def _bright(row: SpotRow) -> float:
    return row.ev.ev100 if row.ev and row.ev.unknown is None else -inf


def _in_hand(row: SpotRow) -> float:
    return -inf if row.reserve_stops is None else row.reserve_stops


def _answer(moment: Moment, rows: tuple[SpotRow, ...], total: int) -> str:
    if not total:
        return "There are no spots yet. Press on the map, or type where you want to stand, to add the first."
    if total == 1:
        return f"{moment_words(moment)}. {rows[0].name} is {rows[0].state_words}."
    counts = Counter(row.state_words.partition(":")[0] for row in rows)
    parts = [f"{count} {_are(count)} {words}" for words, count in counts.most_common()]
    whole = f"Of {total} spots" if len(rows) == total else f"Of the {len(rows)} spots on this page"
    return " ".join([f"{moment_words(moment)}. {whole} {listed(parts)}.", *_best(rows)])


def _best(rows: tuple[SpotRow, ...]) -> Iterator[str]:
    strong = [row for row in rows if row.reserve_stops is not None]
    if len(strong) > 1:
        best = max(strong, key=lambda row: row.reserve_stops or 0.0)
        assert best.reserve_stops is not None and best.ev is not None  # noqa: PT018, S101  chosen for it
        yield f"Most in hand: {best.name}, {stops_in_hand_words(best.reserve_stops)} at {ev_words(best.ev.ev100)}."


def _rests_on(moment: Moment, sentence: Sentence | None, own_weather: bool, left_out: int) -> Iterator[str]:
    yield f"Sky: {moment.oktas} of 8 covered ({sky_words(moment.oktas)}), {moment.oktas_by}."
    if own_weather:
        yield "The list has one sky for all spots; a spot with weather kept for this hour goes by that on its own page."
    yield f"EV at ISO 100, {_way(sentence)}, with its doubt in stops; no meter readings."
    yield "What each skyline rests on stands on the spot's own page."
    if left_out:
        yield f"Only the first {MOST_BRIGHTNESS} spots by name are compared; {left_out} more are not."


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def _way(sentence: Sentence | None) -> str:
    if sentence is None or sentence.looking_deg is None:
        return "on the face turned to its usual camera, or to the brightest side where none is noted"
    return "on the face turned to the camera"
