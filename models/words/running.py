"""What is said of a running order: its blocks and their doubt, what makes it fit, what to charge, what it warns of.

names: how stations are called, by post. clock: an instant as the page shows it, in the zone of the place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime

from models.light.power import fraction_words
from models.words.said import Said, counted, listed, said, signed_minus
from models.words.street import NOT_COUNTED
from models.workshop.batteries import GROUP_PICTURES, SPARE, Batteries, UnitUse
from models.workshop.feels import Feels
from models.workshop.fitting import Fitting, Way
from models.workshop.plan import PlanDraft
from models.workshop.running_order import WALK, Block, RunningOrder
from models.workshop.schedule import Rest, Schedule
from models.workshop.timing import Pace, Span

Clock = Callable[[datetime], str]
Names = Mapping[int, str]

BLOCK_WORDS = {
    "meet": "Meet",
    "drink": "Warm drink and toilets",
    "walk": "Walk to the spot",
    "set up": "Set up",
    "safety": "Safety word",
    "group picture": "Group picture with all lights",
    "pack": "Pack",
    "release": "Release people",
    "walk back": "Walk back",
}
HEADS_WORDS = {
    "meet": "Count heads when everybody is there.",
    "walk": "Count heads on arrival.",
    "release": "Count heads before anybody leaves.",
    "walk back": "Count heads where the walk ends.",
}
RESTS_NOTE = (
    "Models rest at least 5 minutes after 20 minutes on, 10 in heat or cold (common practice, no source). "
    "A model who asks for a break gets it at once."
)
NO_RESTS = "No model is on for 20 minutes without standing idle for long enough."
NIGHT_BEFORE = f"One spare for every flash is in the count, and {GROUP_PICTURES} group pictures with all lights."
MISSING_WORDS = {
    "people": "nobody is down for it yet",
    "stations": "no station is set up for it yet",
    "too many people": "more people than a rota is made for (40)",
}


def missing_words(missing: Iterable[str]) -> str:
    """Why there is no rota, as the end of a sentence; '' where nothing is missing."""
    return " and ".join(MISSING_WORDS[each] for each in missing)


def block_words(block: Block, *, elsewhere: bool = False) -> str:
    """'Round 2', 'Safety word'. elsewhere: the walk goes to the fallback."""
    if elsewhere and block.key == WALK:
        return "Walk there"
    return f"Round {block.round}" if block.round is not None else BLOCK_WORDS.get(block.key, block.key.capitalize())


def lasts_words(length_s: float) -> str:
    """'45 s', '4 min 20 s', '12 minutes', '1 h 5 min'."""
    whole_s = round(length_s)
    if whole_s < 60:
        return f"{whole_s} s"
    if whole_s < 600:
        minutes, rest_s = divmod(whole_s, 60)
        return counted(minutes, "minute", "minutes") if not rest_s else f"{minutes} min {rest_s} s"
    minutes = round(length_s / 60)
    hours, rest_min = divmod(minutes, 60)
    if not hours:
        return counted(minutes, "minute", "minutes")
    return f"{hours} h {rest_min} min" if rest_min else f"{hours} h"


def span_words(span: Span) -> str:
    """'12 minutes', '12 minutes (9 to 14 minutes)', 'at least 9 minutes' where no upper end is to be expected."""
    if span.open:
        return f"{lasts_words(span.middle_s)}, at least {lasts_words(span.low_s)}, no upper end to be expected"
    low, high = lasts_words(span.low_s), lasts_words(span.high_s)
    return lasts_words(span.middle_s) if low == high else f"{lasts_words(span.middle_s)} ({low} to {high})"


def frame_words(pace: Pace, at_s: float = 0.0) -> str:
    """What a frame at one station waits for, and for how long."""
    wait = pace.wait_at(at_s)
    if pace.recycle_s is None:
        ready = f"{pace.pose_s:g} s to pose; no setup is chosen, so how soon the flash is ready is not known"
    elif pace.recycle_s > pace.pose_s:
        ready = f"{pace.recycle_s:.1f} s until the flash is ready, longer than the pose of {pace.pose_s:g} s"
    else:
        ready = f"{pace.pose_s:g} s to pose, the flash is ready after {pace.recycle_s:.1f} s"
    if not wait.counted:
        return f"{ready}. Footfall {NOT_COUNTED} at that hour: no wait for a clear line is added."
    if wait.hopeless:
        return f"{ready}. No gap is to be expected at that hour: {wait.middle_s:.0f} s of waiting is the least."
    low, high = f"{wait.low_s:.1f}", f"{wait.high_s:.1f}"
    doubt = "" if low == high else f" ({low} to {'no end' if wait.open else high})"
    return f"{ready}, then {wait.middle_s:.1f} s{doubt} on average for a clear line."


def turn_words(plan: PlanDraft, frames: int) -> str:
    """What a turn and a round add up from."""
    return (
        f"A turn is {counted(frames, 'frame', 'frames')}, {plan.wide_s:g} s for the wide picture and "
        f"{plan.handover_s:g} s for handing over; a round lasts as long as its slowest station, then "
        f"{plan.move_s:g} s for moving on. All of these but the wait are common practice, no source."
    )


def order_answer(order: RunningOrder, when: str, clock: Clock) -> Said:
    """The page's answer. when: the day with its place."""
    rounds = [block for block in order.blocks if block.round is not None]
    first = order.blocks[0]
    start = f"{when}: {block_words(first).lower()} at {clock(first.starts)}, set up at {clock(order.starts)}, "
    between = f"from {clock(rounds[0].starts)} to {clock(rounds[-1].ends)}, " if rounds else ""
    told = said(f"{start}{counted(len(rounds), 'round', 'rounds')} {between}packed up at {clock(order.packed)}: ")
    told += said("", over_words(order.over_s), ". ")
    if any(block.typed for block in rounds):
        typed_s = (rounds[-1].ends - rounds[0].starts).total_seconds()
        told += said(f"With what was typed over the rounds take {lasts_words(typed_s)}. Worked out: ")
    return told + said(schedule_words(order.schedule))


def typed_over_words(over_s: float) -> str:
    """Where the rounds would fit, but for minutes that were typed."""
    return f"With the minutes that were typed over it is {over_words(over_s)}: take some back, or pack later."


def over_words(over_s: float) -> str:
    """'fits to the minute', 'fits with 4 minutes to spare', '12 minutes too long'."""
    if over_s > 0:
        return f"{lasts_words(over_s)} too long"
    return "fits with nothing to spare" if over_s > -30 else f"fits with {lasts_words(-over_s)} to spare"


def schedule_words(schedule: Schedule) -> str:
    """How long the rounds take, with their doubt."""
    span = Span(schedule.length_s, schedule.low_s, schedule.high_s, schedule.open)
    frames = counted(schedule.frames, "frame", "frames")
    return f"The rounds take {span_words(span)} at {frames} a turn."


def cautions(schedule: Schedule, names: Names) -> list[str]:
    """What the times leave out or rest on."""
    told = []
    if schedule.uncounted:
        told.append(
            f"Footfall {NOT_COUNTED} in the hours planned at {_at(schedule.uncounted, names)}: no wait for a clear "
            "line is in these times. Count for ten minutes."
        )
    if schedule.hopeless:
        told.append(
            f"No gap is to be expected at {_at(schedule.hopeless, names)}: these times are the least it takes. Another "
            "hour, another side, or a line that nobody crosses."
        )
    if schedule.too_long:
        told.append(
            f"One turn at {_at(schedule.too_long, names)} keeps the model on for longer than 20 minutes: fewer frames, "
            "or a rest in the middle of it."
        )
    return told


def feels_words(feels: Feels) -> str:
    """What the hour is like for people who stand about, and for how long models rest in it."""
    if feels.temperature_c is None:
        return (
            "How warm it is in that hour is not known, and taken as neither hot nor cold: type it in the hazards sheet."
        )
    air = f"{signed_minus(feels.temperature_c, 0)} °C"
    like = "" if feels.index_c is None else f", felt as {signed_minus(feels.index_c, 0)} °C"
    if feels.which == "cold":
        chill = f"{like} in the wind (wind chill)" if like else ""
        return f"Cold for standing about, {air}{chill}: models rest for 10 minutes."
    if feels.which == "heat":
        heat = f"{like} in the shade (heat index)" if like else ", humidity not known"
        return f"Heat, {air}{heat}: models rest for 10 minutes."
    return f"At {air} it is neither hot nor cold for standing about: models rest for 5 minutes."


def rest_words(rest: Rest, names: Names) -> str:
    """'The model at A rests 5 minutes before round 2, turn 3; the group waits 3 min 30 s of it.'"""
    start = f"The model at {_name(rest.post, names)} rests {lasts_words(rest.ends_s - rest.starts_s)} before round "
    waits = f"; the group waits {lasts_words(rest.waited_s)} of it" if rest.waited_s >= 1 else "; nobody waits"
    return f"{start}{rest.round}, turn {rest.turn}{waits}."


def fitting_words(fitting: Fitting, names: Names) -> list[str]:
    """First whether it fits, then each way."""
    if fitting.fits:
        return [f"The rounds have {lasts_words(fitting.within_s)}: it {over_words(fitting.over_s)}."]
    has = lasts_words(max(fitting.within_s, 0.0))
    told = [f"The rounds have {has} and take {lasts_words(fitting.planned.length_s)}: {over_words(fitting.over_s)}."]
    if fitting.one_frame_over_s is not None:
        told.append(f"Even one frame a turn is {over_words(fitting.one_frame_over_s)}.")
    return told + [way_words(way, fitting.planned.frames, names) for way in fitting.ways]


def way_words(way: Way, frames: int, names: Names) -> str:
    """One way to make it fit, with what it saves and what is left over. frames: a turn, as planned."""
    if way.kind == "frames":
        what = f"{counted(way.amount, 'frame', 'frames')} a turn instead of {frames}"
    elif way.kind == "station more":
        as_slow = "" if way.copied is None else f", taken to be as slow as {_name(way.copied, names)}"
        what = f"One station more{as_slow}"
    elif way.kind == "station fewer":
        what = f"One station fewer, without {_at(way.dropped, names)}"
    else:
        what = f"{counted(way.amount, 'person', 'people')} fewer"
    saves = (
        f"{lasts_words(way.saves_s)} less" if way.saves_s >= 1
        else f"{lasts_words(-way.saves_s)} more" if way.saves_s <= -1
        else "saves nothing"
    )  # fmt: skip
    return f"{what}: {saves}, {'' if way.fits else 'still '}{over_words(way.over_s)}."


def unit_words(unit: UnitUse, names: Names) -> str:
    """One light's flashes and sets."""
    units = "" if unit.units == 1 else f" from each of {unit.units}"
    start = (
        f"{_name(unit.post, names)}, {unit.role} ({unit.flash}): {unit.fired} flashes{units} at "
        f"{fraction_words(unit.power)} power"
    )
    if unit.sets is None or unit.a_set is None or unit.battery is None:
        return f"{start}. No battery is given for it, so its sets are not counted: take more than you think."
    spare = f"{counted(unit.sets, 'set', 'sets')} and {'a spare' if SPARE == 1 else f'{SPARE} spares'}"
    each = "" if unit.units == 1 else " for each"
    over = " One turn takes more than a set: it is changed in the middle of it." if unit.over_set else ""
    return f"{start}; one set of {unit.battery.name} gives about {unit.a_set}: {spare}{each}.{over}"


def charge_words(found: Batteries, names: Names) -> list[str]:
    """What to charge the night before, and what that list does not know."""
    told = [f"{counted(sets, 'set', 'sets')} of {battery.name}" for battery, sets in found.to_charge]
    for post, place in found.unknown:
        unit = next(one for one in found.units if (one.post, one.place) == (post, place))
        told.append(f"{_name(post, names)}, {unit.role}: no battery is given, so nothing is counted for it")
    told += [f"{_name(post, names)}: no setup is chosen, so its flashes are not known" for post in found.without_setup]
    return told


def _name(post: int, names: Names) -> str:
    return names.get(post, f"station {post}")


def _at(posts: tuple[int, ...], names: Names) -> str:
    return listed([_name(post, names) for post in posts])
