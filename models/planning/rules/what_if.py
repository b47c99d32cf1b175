"""What if: the footprint of a workshop at a spot, read from the address, said back with its words to edit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from models.clock import day_words, to_local, zone_short
from models.planning.answers import Moment
from models.planning.rules import typed
from models.planning.sentence import Word
from models.problems import InputProblem
from models.rules.footprint import Doing, Footprint
from models.store.engine import Store
from models.store.spots import Spot, list_spots
from models.words.rules import amount_words

DOING = tuple(field.name for field in fields(Doing))
FOOTPRINT = (*DOING, "lasts", "width", "meet", "fallback")
"""Parameters of an address; those of DOING are the keys of ACTIVITIES."""
USUAL_LASTS = "90min"
"""An hour or two is usual: common practice, no source."""
MOST_PEOPLE, MOST_THINGS = 500, 99
NEAR_SPOTS = 12
USUAL = Doing()


@dataclass(frozen=True, slots=True)
class Counted:
    """A thing that is counted: its name for one and for several, what stands before it, what is suggested."""

    before: str
    label: str
    one: str
    many: str
    suggested: tuple[int, ...] = (0, 1, 2, 3)
    lowest: int = 0
    highest: int = MOST_THINGS

    def words(self, count: int) -> str:
        return f"{count or 'no'} {self.one if count == 1 else self.many}"


@dataclass(frozen=True, slots=True)
class Ticked:
    """A thing that is done or not, with the words for both."""

    before: str
    label: str
    done: str
    left: str


PEOPLE = Counted("", "people, everybody counted", "person", "people", (5, 7, 9, 12, 15), 1, MOST_PEOPLE)
COUNTED: dict[str, Counted] = {
    "group": PEOPLE,
    "models": Counted(", of them ", "models among them", "model", "models", highest=MOST_PEOPLE),
    "stand_ground": Counted(", ", "stands on the ground", "stand", "stands"),
    "stand_held": Counted(" on the ground and ", "stands held by a person", "stand", "stands"),
    "tripod": Counted(" held, ", "tripods", "tripod", "tripods"),
    "flash_held": Counted(", ", "flashes in the hand", "flash", "flashes"),
}
TICKED: dict[str, Ticked] = {
    "teaching": Ticked("; ", "teaching", "paid teaching", "no paid teaching"),
    "obstruction": Ticked(" in the hand, ", "footway", "footway obstructed", "footway left free"),
    "cable": Ticked("", "cable or generator", "A cable or generator", "No cable or generator"),
    "vehicle": Ticked(", ", "vehicle", "a vehicle", "no vehicle"),
    "signs": Ticked(", ", "signs", "signs put up", "no signs"),
    "filming": Ticked(", ", "filming", "filming", "no filming"),
}
MAIN = ("group", "models", "teaching", "stand_ground", "stand_held", "tripod", "flash_held", "obstruction")
MORE = ("cable", "vehicle", "signs", "filming")
NOT_MEASURED, NOWHERE, NO_FALLBACK = "not measured", "nowhere noted", "no other spot"


@dataclass(frozen=True, slots=True)
class Clause:
    """A part of the sentence, and what ends it."""

    words: tuple[Word, ...]
    after: str

    @property
    def text(self) -> str:
        return "".join(word.before + word.shown for word in self.words) + self.after


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What would be done when, from where people walk, and where they go when it fails.

    address: the parameters that say it again, the usual ones left out.
    """

    footprint: Footprint
    meeting_point: tuple[float, float] | None
    fallback: Spot | None
    sentence: Clause
    more: Clause
    address: Mapping[str, str]


def read_what_if(store: Store, asked: Mapping[str, str], spot: Spot, moment: Moment) -> WhatIf:
    """The what-if meant by address parameters, set up at the moment; what is missing is as usual.

    Raises InputProblem naming the parameter.
    """
    footprint, meeting, fallback = _read(store, asked, spot, moment)
    return WhatIf(
        footprint=footprint,
        meeting_point=meeting,
        fallback=fallback,
        sentence=Clause(_main_words(footprint, moment.zone), _ending(footprint, moment.zone)),
        more=Clause(_more_words(store, footprint, meeting, fallback, _near(store, spot)), "."),
        address=what_if_address(footprint, meeting, fallback.id if fallback else None),
    )


def unusual_what_if(store: Store, asked: Mapping[str, str], spot: Spot, moment: Moment) -> dict[str, str]:
    """Its parameters as they are understood, the usual ones left out. Raises InputProblem naming the parameter."""
    footprint, meeting, fallback = _read(store, asked, spot, moment)
    return what_if_address(footprint, meeting, fallback.id if fallback else None)


def read_footprint(asked: Mapping[str, str], moment: Moment) -> Footprint:
    """The footprint alone. Raises InputProblem naming the parameter."""
    starts = moment.instant
    ends = typed.read_ends("lasts", asked.get("lasts", "").strip() or USUAL_LASTS, starts, moment.zone)
    return Footprint(
        starts=to_local(starts, moment.zone),
        ends=to_local(ends, moment.zone),
        doing=read_doing(asked),
        width_left_m=typed.read_width("width", asked.get("width", "")),
    )


def read_doing(asked: Mapping[str, str]) -> Doing:
    """How much of each activity; what is missing is as usual. Raises InputProblem naming the activity."""
    texts = {name: asked[name] for name in DOING if asked.get(name, "").strip()}
    return doing_of({name: read_amount(name, text) for name, text in texts.items()})


def read_amount(name: str, text: str) -> int | bool:
    """How much of one activity. Raises InputProblem naming it."""
    if name in COUNTED:
        return typed.read_count(name, text, COUNTED[name].lowest, COUNTED[name].highest)
    return typed.read_yes(name, text)


def doing_of(amounts: Mapping[str, int | bool]) -> Doing:
    """All of it together; what is missing is as usual. Raises InputProblem('models', ...) for more than people."""
    doing = Doing(**amounts)  # type: ignore[arg-type]
    if doing.models > doing.group:
        group = PEOPLE.words(doing.group)
        raise InputProblem("models", f"{doing.models} models among {group}: count everybody standing there.")
    return doing


def doing_texts(doing: Doing) -> dict[str, str]:
    """Each activity as it may be typed again."""
    return {name: _text(getattr(doing, name)) for name in DOING}


def doing_words(doing: Doing) -> tuple[str, ...]:
    """What is done, activity by activity."""
    return tuple(amount_words(activity, amount) for activity, amount in doing.amounts().items())


def span_words(footprint: Footprint, zone: str) -> str:
    """'Saturday 17 October 2026, 17:00 to 18:30 CEST': both zones across a clock change, both days over midnight."""
    starts, ends = footprint.starts, footprint.ends
    first, last = zone_short(starts, zone), zone_short(ends, zone)
    begins = f"{starts:%H:%M}" + ("" if first == last else f" {first}")
    turns = "" if starts.date() == ends.date() else f" on {day_words(ends.date())}"
    return f"{day_words(starts.date())}, {begins} to {ends:%H:%M} {last}{turns}"


def what_if_address(
    footprint: Footprint, meeting: tuple[float, float] | None, fallback_spot_id: int | None
) -> dict[str, str]:
    """The parameters that say it, the usual ones left out."""
    usual = doing_texts(USUAL) | {"lasts": USUAL_LASTS}
    said = doing_texts(footprint.doing) | {
        "lasts": typed.lasts_text(footprint.starts, footprint.ends),
        "width": typed.width_text(footprint.width_left_m),
        "meet": typed.meeting_text(meeting),
        "fallback": str(fallback_spot_id or ""),
    }
    return {name: value for name, value in said.items() if value != usual.get(name, "")}


def _read(
    store: Store, asked: Mapping[str, str], spot: Spot, moment: Moment
) -> tuple[Footprint, tuple[float, float] | None, Spot | None]:
    footprint = read_footprint(asked, moment)
    meeting = typed.read_meeting_point("meet", _typed(asked, "meet", NOWHERE), store)
    return footprint, meeting, _fallback(store, _typed(asked, "fallback", NO_FALLBACK), spot)


def _main_words(footprint: Footprint, zone: str) -> tuple[Word, ...]:
    starts = footprint.starts
    end = typed.ends_text(starts, footprint.ends, zone)
    first, last = zone_short(starts, zone), zone_short(footprint.ends, zone)
    span = f"; {day_words(starts.date())}, {starts:%H:%M}{'' if first == last else f' {first}'} to "
    ends = Word(span, "lasts", "packed up at, or how long it takes", end, end, _lengths(), free=True)
    return (*(_word(name, footprint.doing) for name in MAIN), ends)


def _lengths() -> tuple[tuple[str, str], ...]:
    return tuple((f"{minutes}min", f"{minutes} min") for minutes in (45, 60, 90, 120, 150))


def _ending(footprint: Footprint, zone: str) -> str:
    turns = footprint.ends.date() != footprint.starts.date()
    shown = typed.ends_text(footprint.starts, footprint.ends, zone)
    named = f" {zone_short(footprint.ends, zone)}" if shown == f"{footprint.ends:%H:%M}" else ""
    return f"{named}{f' on {day_words(footprint.ends.date())}' if turns else ''}, setting up to packed up."


def _more_words(
    store: Store,
    footprint: Footprint,
    meeting: tuple[float, float] | None,
    fallback: Spot | None,
    near: tuple[str, ...],
) -> tuple[Word, ...]:
    width = typed.width_text(footprint.width_left_m) or NOT_MEASURED
    walk = typed.meeting_words(meeting, store) or NOWHERE
    other = typed.spot_text(fallback, store) if fallback else NO_FALLBACK
    widths = ((NOT_MEASURED, NOT_MEASURED), *((text, text) for text in ("1.5 m", "1.8 m", "2 m")))
    spots = tuple((name, name) for name in near)
    return (
        *(_word(name, footprint.doing) for name in MORE),
        Word("; width left for walkers ", "width", "width left for walkers", width, width, widths, free=True),
        Word("; walking there from ", "meet", "meeting point", walk, walk,
             ((NOWHERE, NOWHERE), *spots), free=True),
        Word("; if it fails, to ", "fallback", "fallback", other, other,
             ((NO_FALLBACK, NO_FALLBACK), *spots), free=True),
    )  # fmt: skip


def _word(name: str, doing: Doing) -> Word:
    if name in COUNTED:
        counted, amount = COUNTED[name], int(getattr(doing, name))
        options = tuple((str(count), counted.words(count)) for count in counted.suggested)
        return Word(counted.before, name, counted.label, str(amount), counted.words(amount), options, free=True)
    ticked, done = TICKED[name], bool(getattr(doing, name))
    options = ((typed.YES, ticked.done), (typed.NO, ticked.left))
    return Word(ticked.before, name, ticked.label, _text(done), ticked.done if done else ticked.left, options)


def _near(store: Store, spot: Spot) -> tuple[str, ...]:
    """Names of spots to go to or come from, nearest first."""
    here = (spot.latitude_deg, spot.longitude_deg)
    with store.reading() as s:
        found = list_spots(s, order_by="distance", here=here, limit=NEAR_SPOTS + 1)
    return tuple(dict.fromkeys(other.name for other in found if other.id != spot.id))[:NEAR_SPOTS]


def _fallback(store: Store, text: str, spot: Spot) -> Spot | None:
    if not text:
        return None
    found = typed.read_spot("fallback", text, store)
    if found.id == spot.id:
        raise InputProblem("fallback", f"{found.name} is the spot itself. Choose another one.")
    return found


def _typed(asked: Mapping[str, str], name: str, nothing: str) -> str:
    text = asked.get(name, "").strip()
    return "" if text.lower() == nothing else text


def _text(value: int | bool) -> str:
    return (typed.YES if value else typed.NO) if isinstance(value, bool) else str(value)
