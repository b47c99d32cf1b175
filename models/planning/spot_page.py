"""Everything about one spot at one moment, for page, JSON and terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from models.clock import zone_short
from models.drawing.day_strip import draw_day_strip
from models.drawing.figures import day_figures
from models.drawing.skyline_strip import draw_skyline_strip
from models.drawing.year_map import draw_year_map
from models.light.facing import BEARINGS, Facing, facing_order, sun_place
from models.light.flash import Alternative, Alternatives, Choice, FlashAnswer, answer
from models.light.gels import DAYLIGHT_K
from models.planning import day as days
from models.planning import spot_skyline
from models.planning.answers import Moment
from models.planning.facings import behind_parts
from models.planning.keeping import get_spot
from models.planning.kit import kit_of
from models.planning.light import SpotLight, spot_light
from models.planning.moments import moment_words, year_sky
from models.planning.now import Now, light_now
from models.planning.rules.spot_line import spot_line
from models.planning.sentence import Sentence, bearing_words, read_sentence
from models.planning.spot_answers import Dial, Drawing, FacingRow, LightNow, SpotPage
from models.planning.spot_notes import spot_notes
from models.planning.street.near import footfall_note
from models.planning.turns import events_at
from models.planning.year import year_at, year_map_of
from models.store.engine import Store
from models.units import C_FLAT_LX_S, K_REFLECTED, illuminance_from_ev100, luminance_from_ev100
from models.words import spot as words
from models.words.said import Said, doubt_words, ev_words, signed_minus
from models.words.sources import SOURCES

QUANTITIES = ("reserve", "ev")


def spot_page(
    store: Store, spot_id: int, moment: Moment, asked: Mapping[str, str], as_of: datetime | None = None
) -> SpotPage:
    """The page of a spot. asked: the sentence's parameters, `year` (reserve or ev), and what a what-if says.

    as_of: when days to ask by are looked at, the moment itself where None.
    Raises Missing, InsideBuilding, or InputProblem naming a parameter.
    """
    spot = get_spot(store, spot_id)
    light = spot_light(store, spot, now=moment.instant)
    sentence = read_sentence(asked, kit_of(store), spot.looking_deg)
    looking, choice = sentence.looking_deg, sentence.choice
    now = light_now(light, moment, looking)
    day = days.day_at(light, moment, events_at(store, spot, moment), looking)
    facing = _facing(choice, now, looking)
    flash = _flash(choice, now, day, moment, facing)
    behind = spot_skyline.obstacle_words(store, light.standing, now.obstacle, now.sun_azimuth_deg)
    strip = days.strip_of(light, day, now, moment, choice, looking)
    quantity = asked.get("year", "reserve") if asked.get("year") in QUANTITIES else "reserve"
    return SpotPage(
        spot=spot,
        moment=moment,
        moment_words=moment_words(moment),
        answer=_answer(spot.name, moment, now, day, sentence, flash),
        rules=spot_line(store, spot, moment, asked, as_of or moment.instant),
        cautions=_cautions(spot.hazards, now, looking),
        light=_light(now, moment, behind),
        sentence=sentence,
        flash=flash,
        dial=_dial(flash),
        facing=tuple(_facing_row(row, looking) for row in facing),
        turning_points=day.turns,
        bands=day.bands,
        skyline=_skyline(light, day, now, moment, looking, behind),
        day=Drawing(draw_day_strip(strip, "wide"), draw_day_strip(strip, "narrow"), _day_caption(moment, now)),
        day_rows=day_figures(strip),
        year=_year(light, moment, choice, looking, now, quantity),
        year_quantity=quantity,
        notes=spot_notes(spot, footfall_note(store, spot, moment)),
        working=tuple(_working(flash, now)),
        rests_on=now.rests_on,
        sources=SOURCES,
    )


def _facing(choice: Choice, now: Now, looking: float | None) -> tuple[Facing, ...]:
    """The eight ways to face them, and the one chosen where it lies between."""
    own = None
    if looking is not None and now.backdrop and looking not in BEARINGS:
        own = looking, now.face, now.backdrop
    return facing_order(
        choice,
        now.planes,
        now.behinds,
        sun_elevation_deg=now.sun_elevation_deg,
        sun_azimuth_deg=now.sun_azimuth_deg,
        sun_reaches=now.sun_reaches,
        between=own,
    )


def _flash(choice: Choice, now: Now, day: days.Day, moment: Moment, facing: tuple[Facing, ...]) -> FlashAnswer:
    """The answer with the ways out that the place offers: a later hour, another bearing."""
    best = facing[0]
    other = Alternative(f"Camera looking {bearing_words(best.looking_deg)}", best.reserve_stops)
    later = days.later_with_more(day, moment, choice)
    return answer(
        choice,
        now.face,
        now.backdrop,
        elsewhere=Alternatives(later=later, bearing=other if now.behind else None),
        sun_elevation_deg=now.sun_elevation_deg,
        sun_reaches=now.sun_reaches,
    )


def _answer(name: str, moment: Moment, now: Now, day: days.Day, sentence: Sentence, flash: FlashAnswer) -> Said:
    looking = None if sentence.looking_deg is None else bearing_words(sentence.looking_deg)
    low, high = now.subject.by_facing or (now.subject.ev100, now.subject.ev100)
    spread = f"{signed_minus(low, 1)} to {signed_minus(high, 1)} by facing, " if high - low > 0.2 else ""
    behind = now.behind.ev100 if now.behind else None
    unknown = now.subject.unknown
    reads = (
        words.lamps_not_known(unknown)
        if unknown
        else words.brightness(now.subject.ev100, now.subject.doubt_stops, behind, looking, spread)
    )
    until = days.until_words(day, moment)
    return (
        words.place_and_time(name, moment_words(moment), now.state_words, until, too_close=now.too_close)
        + reads
        + words.flash(sentence.setup, flash)
    )


def _cautions(hazards: str, now: Now, looking: float | None) -> tuple[str, ...]:
    place = sun_place(looking or 0.0, now.sun_elevation_deg, now.sun_azimuth_deg, now.sun_reaches)
    dark = now.state in ("dusk", "lamps", "dark")
    return words.cautions(hazards, None if looking is None else place, now.sun_elevation_deg, dark)


def _light(now: Now, moment: Moment, behind: str) -> LightNow:
    return LightNow(
        state=now.state,
        state_words=now.state_words,
        too_close=now.too_close,
        sun_words=", ".join(spot_skyline.sun_words(now, moment, behind)[1:]),
        sun_elevation_deg=now.sun_elevation_deg,
        sun_azimuth_deg=now.sun_azimuth_deg,
        obstacle=behind,
        subject=now.subject,
        behind=now.behind,
        behind_parts=behind_parts(now.series.light, now.looking_deg) if now.looking_deg is not None else (),
    )


def _dial(flash: FlashAnswer) -> Dial:
    shutter, aperture, iso = flash.settings.words.split(", ")
    power = "none" if flash.ambient_exposes else flash.start_at.words
    figures = (
        ("shutter", shutter),
        ("aperture", aperture),
        ("ISO", iso.removeprefix("ISO ")),
        ("flash", power),
        ("white", f"{DAYLIGHT_K} K"),
        ("drive", "single"),
    )
    return Dial(figures, tuple(words.flash_lines(flash)))


def _facing_row(row: Facing, looking: float | None) -> FacingRow:
    return FacingRow(
        looking_deg=row.looking_deg,
        looking=bearing_words(row.looking_deg),
        face_ev=row.subject.ev100,
        behind_ev=row.behind.ev100,
        reserve_stops=row.reserve_stops,
        binds=words.BINDS[row.binds],
        sun=row.sun,
        chosen=row.looking_deg == looking,
    )


def _skyline(light: SpotLight, day: days.Day, now: Now, moment: Moment, looking: float | None, behind: str) -> Drawing:
    strip = spot_skyline.strip_of(light, day, now, moment, looking, behind)
    caption = f"Skyline {light.standing.skyline.source}. Numbers along the sun's way are hours."
    return Drawing(draw_skyline_strip(strip, "wide"), draw_skyline_strip(strip, "narrow"), caption)


def _day_caption(moment: Moment, now: Now) -> str:
    sky = f"{moment.oktas} of 8 covered, {moment.oktas_by}{', taken for the whole day' if moment.of_hour else ''}"
    return f"EV at ISO 100, sky {sky}, give or take {doubt_words(now.subject.doubt_stops)}."


def _year(light: SpotLight, moment: Moment, choice: Choice, looking: float | None, now: Now, quantity: str) -> Drawing:
    figures = (f"{moment.local.day} {moment.local:%b}", *days.moment_figures(now, moment, choice))
    oktas, oktas_by = year_sky(moment)
    year = year_at(light, moment.local.year, oktas, looking)
    drawn = year_map_of(year, light, moment, choice, figures, quantity)
    zone = zone_short(moment.instant, moment.zone)
    caption = f"Every day of {moment.local.year} under {oktas} of 8 cloud, {oktas_by}; clock time, now {zone}."
    return Drawing(draw_year_map(drawn, "wide"), draw_year_map(drawn, "narrow"), caption)


def _working(flash: FlashAnswer, now: Now) -> Iterator[str]:
    """The formulas with the numbers of this moment in them."""
    lux = illuminance_from_ev100(now.subject.ev100)
    yield f"Face = log2({lux:,.4g} lx × 100 / {C_FLAT_LX_S:g}) = {ev_words(now.subject.ev100)}"
    if now.behind:
        nits = luminance_from_ev100(now.behind.ev100)
        yield f"Behind = log2({nits:,.4g} cd/m² × 100 / {K_REFLECTED:g}) = {ev_words(now.behind.ev100)}"
    yield from flash.reserve.working
    yield from flash.notes
