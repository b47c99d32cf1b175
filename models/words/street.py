"""What is said of the street: who comes by, what is left to walk on, how far it is, what the weather does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from math import ceil, isfinite

from models.street.clearance import Clearance, Verdict
from models.street.comfort import chill, heat, heat_index_c, wind_chill_c
from models.street.crowding import Crowding
from models.street.footfall import DAY_KINDS, HINTS, DayKind, Footfall, Rate
from models.street.gaps import Gap, clear_gap
from models.street.walking import How, Walk
from models.street.weather import BEAUFORT_NAMES, WeatherHour, beaufort
from models.words.said import Said, listed, said, signed_minus

NOT_COUNTED = "not counted"
DAY_KIND_WORDS: dict[DayKind, str] = {
    "weekday": "weekdays",
    "saturday": "Saturdays",
    "sunday": "Sundays and holidays",
}
WALK_WORDS: dict[How, str] = {"straight": "by the straight distance with a detour", "footways": "along footways"}
GUIDES_NOTE = (
    "Published guides bind only where an authority has adopted them. Wheelchairs, prams and people with a stick come "
    "by too. Local codes and licensed practice decide."
)
SOURCES = {
    "Footfall": (
        "counts as a Poisson stream, with a Gamma prior from the spot's other hours worth ten minutes of counting at "
        "most; 80 % intervals. They speak of hours like those counted: another week may differ by more"
    ),
    "Waiting": "Adams, Road traffic considered as a random series, 1936; a party of 1.5 people where not counted",
    "Width": "Inclusive Mobility (UK, 2021), PROWAG (US, 2023), ADA Standards (US, 2010)",
    "Crowding": "walkway levels of the Highway Capacity Manual 2000, Exhibit 18-3; our own three words for six levels",
    "Walking": "3.5 ft/s, the pace of signal timing (MUTCD 2009), over the straight distance times a detour",
    "Wind": "Beaufort force, WMO-No. 306; drag ½ ρ Cd A v² with Cd 1.4; what is done about it: common practice",
    "Cold and heat": "wind chill (Environment Canada, 2001); heat index (US National Weather Service, 1990)",
}


def sources_of(*what: str) -> tuple[tuple[str, str], ...]:
    """(what, its source) for the foot of a page."""
    return tuple((each, SOURCES[each]) for each in what)


def rate_words(rate: Rate | None) -> str:
    """'about 240 people an hour (200 to 290)', or 'not counted'."""
    if rate is None:
        return NOT_COUNTED
    if rate.people == 0:
        return f"nobody seen in {rate.minutes:.0f} minutes (up to {rounded(rate.high_per_h)} people an hour)"
    low, middle, high = (rounded(value) for value in (rate.low_per_h, rate.people_per_h, rate.high_per_h))
    return f"about {middle} people an hour ({low} to {high})"


def hour_words(kind: DayKind, hour: int) -> str:
    """'Saturdays, 16 to 17 h'."""
    words = DAY_KIND_WORDS[kind]
    return f"{words[0].upper()}{words[1:]}, {hour} to {hour + 1} h"


def rounded(people: float) -> str:
    """No more figures than a count is good for: to fives from 50 on, to tens from 200, to fifties from 1,000."""
    step = 1 if people < 50 else 5 if people < 200 else 10 if people < 1000 else 50
    return f"{round(people / step) * step:,}"


def gap_words(rate: Rate | None, gap_s: float, share_crossing: float = 1.0) -> Said:
    """How long one waits for a clear line at that footfall, and what a frame risks that does not wait."""
    if rate is None:
        return said("Footfall ", NOT_COUNTED, ": no wait can be given. Count for ten minutes.")
    middle, low, high = (clear_gap(one.parties_per_s, gap_s, share_crossing) for one in (rate, *rate.ends))
    if not middle.expected:
        return said(
            "No gap to be expected: ", f"{middle.parties_per_s * gap_s:.0f} parties", f" cross in the {gap_s:g} s that "
            "one frame needs. Another hour, another side, or a line that nobody crosses.",
        )  # fmt: skip
    ends = f"{wait_words(low)} to {wait_words(high)}"
    between = "" if wait_words(low) == wait_words(high) else f" ({ends})"
    return said(
        f"For {gap_s:g} s of clear line to the model you wait ", wait_words(middle), f"{between} on average; about ",
        f"{spoilt_of_100(middle)} of 100 frames", " shot without looking have somebody in them.",
    )  # fmt: skip


def wait_words(gap: Gap) -> str:
    """'under a second', '12 s', '3 minutes', 'no gap'."""
    wait_s = gap.mean_wait_s
    if not gap.expected or not isfinite(wait_s):
        return "no gap"
    if wait_s < 1:
        return "under a second"
    return f"{wait_s:.0f} s" if wait_s < 90 else f"{wait_s / 60:.0f} minutes"


def spoilt_of_100(gap: Gap) -> int:
    return round(100 * gap.spoilt_share)


def hint_words(kind: str, distance_m: float, name: str = "") -> str:
    """A thing nearby that brings people: a note, never a rate."""
    what = near_words(kind, distance_m, name)
    return f"{what[0].upper()}{what[1:]}: people come in waves. A note from the map, not a count."


def near_words(kind: str, distance_m: float, name: str = "") -> str:
    """'bus stop (Bell Street) 40 m away': to ten metres, as well as a map has it."""
    away = f"{round(distance_m / 10) * 10:d} m" if distance_m >= 10 else "under 10 m"
    return f"{HINTS[kind]}{f' ({name})' if name else ''} {away} away"


def counted_words(footfall: Footfall) -> str:
    """What was counted and what was not."""
    if not footfall.rates:
        return "Nobody has counted here yet: stand there for ten minutes and count who crosses the line to the model."
    kinds = [DAY_KIND_WORDS[kind] for kind in DAY_KINDS if any(key[0] == kind for key in footfall.rates)]
    missing = [DAY_KIND_WORDS[kind] for kind in DAY_KINDS if DAY_KIND_WORDS[kind] not in kinds]
    counts = "1 count" if footfall.counts == 1 else f"{footfall.counts} counts"
    rest = f"; {listed(missing)} not counted" if missing else ""
    hours = "1 hour" if len(footfall.rates) == 1 else f"{len(footfall.rates)} hours"
    return f"{counts} on {listed(kinds)}, in {hours} of the week's 72{rest}."


def clearance_words(found: Clearance) -> Said:
    """The width left and what it falls short of."""
    pavement = found.pavement
    start = said(
        "", f"{metres(found.left_m)} left for walkers", f" beside a station {metres(pavement.depth_m)} deep "
        f"({metres(pavement.before_m)} without it).",
    )  # fmt: skip
    if not found.missed:
        own = listed([*dict.fromkeys(verdict.minimum.name for verdict in found.verdicts)])
        what = own if found.own else "the published minima looked at"
        return start + said(f" Not under {what}; ask all the same.")
    return start + said(" Short of ", "; ".join(_short(verdict) for verdict in found.missed), ".")


def verdict_words(verdict: Verdict) -> str:
    """One minimum: 'UK footway, absolute minimum, 1.50 m: 0.15 m short, ...'."""
    minimum = verdict.minimum
    start = f"{minimum.name}, {as_told(minimum.width_m)}: "
    if verdict.met:
        return f"{start}{metres(-verdict.short_m)} over. {minimum.source}."
    return f"{start}{_shortfall(verdict.short_m)} short{_eased(verdict)}. {minimum.source}."


def crowding_words(before: Crowding, beside: Crowding) -> Said:
    """Three words before and with the station, the levels under them."""
    return said(
        "", f"{beside.crowd[0].upper()}{beside.crowd[1:]} beside the station", f", {before.crowd} without it: walkway "
        f"{_level(beside)}, and {_level(before)} (Highway Capacity Manual 2000).",
    )  # fmt: skip


def walk_words(walks: Sequence[Walk]) -> Said:
    """'6 minutes on foot: 380 m along footways, at 1.07 m/s.', or both answers where they disagree."""
    first, *others = walks
    noted = _notes(next((walk for walk in walks if walk.how == "footways"), first))
    pace = f", at {first.pace_m_s:.2f} m/s"
    start = said("", minutes_words(first.time_s), f" on foot: {_walk(first)}")
    if not others:
        return start + said(f"{pace}{noted}.")
    other = f"; {minutes_words(others[0].time_s)}: {_walk(others[0])}"
    return start + said(f"{other}{pace}{noted}. They differ by more than a third: walk it once.")


def minutes_words(time_s: float) -> str:
    """Whole minutes, up: nobody waits for who comes early."""
    minutes = max(1, ceil(time_s / 60 - 1e-9))
    return "1 minute" if minutes == 1 else f"{minutes} minutes"


def weather_words(hour: WeatherHour, now: datetime) -> str:
    """What is given for the hour, who says so, and how old that is."""
    parts = [
        _given(hour.oktas, "{:g} eighths of cloud"),
        _wind(hour),
        _given(hour.temperature_c, "{} °C", signed=True),
        _given(hour.humidity_pct, "humidity {:.0f} %"),
        _given(hour.rain_mm, "{:g} mm of rain"),
    ]
    given = ", ".join(part for part in parts if part) or "nothing given for this hour"
    return f"{given[0].upper()}{given[1:]}. {_who_says(hour, now)}."


def comfort_words(hour: WeatherHour, *, in_sun: bool = False) -> Iterator[str]:
    """What it does to people, where an index has something to say."""
    if hour.temperature_c is None:
        return
    index_c = None if hour.wind_m_s is None else wind_chill_c(hour.temperature_c, hour.wind_m_s)
    if index_c is not None and chill(index_c) != "none":
        yield f"Wind chill {signed_minus(index_c, 0)}: {chill(index_c)} risk to bare skin."
    hot_c = None if hour.humidity_pct is None else heat_index_c(hour.temperature_c, hour.humidity_pct)
    if hot_c is not None and heat(hot_c, in_sun=in_sun) != "none":
        sun = " in the sun at its worst" if in_sun else " in the shade"
        yield f"Heat index {hot_c:.0f} °C, {heat(hot_c, in_sun=in_sun)}{sun}."


def metres(length_m: float) -> str:
    """'1.35 m': to the centimetre, as well as anybody measures a pavement."""
    return f"{length_m:.2f} m"


def as_told(length_m: float) -> str:
    """What a guide or a place asks for: '2.00 m', and '0.915 m' where it is told in millimetres."""
    in_mm = length_m == round(length_m, 3) != round(length_m, 2)
    return f"{length_m:.3f} m" if in_mm else metres(length_m)


def _shortfall(short_m: float) -> str:
    """Never '0.00 m' where something is missing."""
    return "under 0.01 m" if short_m < 0.01 else metres(short_m)


def _short(verdict: Verdict) -> str:
    return f"{verdict.minimum.name}, by {_shortfall(verdict.short_m)}{_eased(verdict)}"


def _eased(verdict: Verdict) -> str:
    minimum = verdict.minimum
    if not verdict.eased or minimum.short_width_m is None:
        return ""
    narrower, longest = as_told(minimum.short_width_m), as_told(minimum.short_longest_m)
    return f" (past a station no longer than {longest} that guide asks for {narrower})"


def flow_words(walkers_min_m: float, digits: int) -> str:
    """'30 people a minute and metre', '1 person a minute and metre'."""
    number = f"{walkers_min_m:.{digits}f}"
    return f"{number} {'person' if number == '1' else 'people'} a minute and metre"


def _level(crowding: Crowding) -> str:
    flow = f" at {flow_words(crowding.walkers_min_m, 0)}" if isfinite(crowding.walkers_min_m) else ""
    return f"level {crowding.level}{flow}" + (f", but only {metres(crowding.width_m)} wide" if crowding.narrow else "")


def _walk(walk: Walk) -> str:
    return f"{round(walk.distance_m / 10) * 10:d} m {WALK_WORDS[walk.how]}"


def _notes(walk: Walk) -> str:
    notes = [
        (walk.stairs, "flight of stairs", "flights of stairs"),
        (walk.crossings, "road to cross", "roads to cross"),
    ]
    found = [f"{number} {one if number == 1 else more}" for number, one, more in notes if number]
    return f"; {listed(found)}" if found else ""


def _given(value: float | None, form: str, *, signed: bool = False) -> str:
    return "" if value is None else form.format(signed_minus(value, 0) if signed else value)


def wind_figure(wind_m_s: float) -> str:
    """'13.9', '5': no finer than anybody knows a wind."""
    return f"{wind_m_s:.1f}".removesuffix(".0")


def _wind(hour: WeatherHour) -> str:
    strongest = hour.strongest_m_s
    if strongest is None:
        return ""
    mean = "wind not given" if hour.wind_m_s is None else f"wind {wind_figure(hour.wind_m_s)} m/s"
    gusts = "" if hour.gust_m_s is None else f", gusts {wind_figure(hour.gust_m_s)} m/s"
    return f"{mean}{gusts} (force {beaufort(strongest)}, {BEAUFORT_NAMES[beaufort(strongest)]})"


def _who_says(hour: WeatherHour, now: datetime) -> str:
    who = f"{hour.source[0].upper()}{hour.source[1:]}"
    if hour.issued_at is None:
        return who
    hours = (now - hour.issued_at).total_seconds() / 3600
    return f"{who}, {'under an hour' if hours < 1 else f'{hours:.0f} h'} old"
