"""What is said of a workshop's stations: one by one, all together, and of one setting for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import Literal

from models.light.card import OneSetting
from models.words.said import Said, listed, said
from models.words.setup import stops_said
from models.words.street import metres

Working = Literal["as set up", "once moved", "not"]
"""Whether a station's setup works: as it is set up, once lights are moved as its sentence says, or not at all."""
FAR_M = 50.0
"""A station this far from its spot has other walls, trees and pavement round it: our planning rule."""

NO_SETUP = "No setup is chosen, so nothing is said of its light."
NOBODY_WATCHES = "Nobody watches the pavement here: have one person who looks out for those who come by."
PAVEMENT_NOT_MEASURED = "The pavement at this spot was not measured: the width left is not known."
DEPTH_NOT_MEASURED = "How deep the station is was not measured: the width left is not known."
DEPTH_FROM_SETUP = "The depth is reckoned from the setup, kept to the wall; measure it on the spot."
NO_BEARING = "No camera bearing is chosen: the light is that of the brightest side, and what is behind is left out."
ONE_SETTING_NOTE = (
    "With one setting nobody touches the camera between stations; only the flashes are set. The surroundings come out "
    "as said, on the face everything is as planned where the powers reach."
)
COUNT_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def no_light_words(message: str) -> str:
    return f"No light is worked out: {message}"


def left_words(left_m: float) -> str:
    """'1.35 m', down to the centimetre, so that a width that is short is never told as enough."""
    return metres(floor(left_m * 100 + 1e-6) / 100)


def count_words(count: int, one: str, many: str) -> str:
    """'one station', 'three stations', '13 stations'."""
    return f"{COUNT_WORDS[count] if count < len(COUNT_WORDS) else count} {one if count == 1 else many}"


def short_of_hands_words(needed: int, group_size: int) -> str:
    """A group's people but the one who shoots are the hands it has."""
    hands = "hand" if needed == 1 else "hands"
    has = COUNT_WORDS[group_size - 1]
    return (
        f"It needs {needed} {hands} beside whoever shoots, and a group of {group_size} has {has}: lend a "
        "helper, take a setup with fewer held lights, or make the groups larger."
    )


def off_the_spot_words(off_m: float) -> str:
    return (
        f"It stands {off_m:.0f} m from the spot's own point: rules are looked up where it stands, light and pavement "
        "are those of the spot."
    )


def hands_words(holders: int, watchers: int) -> str:
    """'2 hold lights, 1 watches the pavement'."""
    held = "nobody holds a light" if not holders else f"{holders} {'holds a light' if holders == 1 else 'hold lights'}"
    looks = "watches" if watchers == 1 else "watch"
    return f"{held}, {watchers or 'nobody'} {looks if watchers else 'watches'} the pavement"


def key_left_words(left_stops: float | None) -> str:
    """What the key has from the power it is dialled to: '0.7 stops up to full power', 'lacks 0.4 stops at full'."""
    if left_stops is None:
        return "off"
    if left_stops < -0.05:
        return f"lacks {stops_figure(-left_stops)} at full power"
    return f"{stops_figure(left_stops)} from what is dialled up to full power" if left_stops >= 0.05 else (
        "nothing, it is at full power"
    )  # fmt: skip


def stops_figure(stops: float) -> str:
    """'0.4 stops', '1 stop'."""
    text = f"{stops:.1f}".removesuffix(".0")
    return f"{text} {'stop' if text == '1' else 'stops'}"


def far_words(far: Sequence[tuple[str, float]]) -> str:
    """Which stations, with metres, stand so far off that light and pavement of the spot are not theirs."""
    if not far:
        return ""
    where = listed([f"{name} {off_m:.0f} m" for name, off_m in far])
    stands, its, one = (
        ("stand", "their", "spots of their own") if len(far) > 1 else ("stands", "its", "a spot of its own")
    )
    return f" {where} off the spot {stands} too far for {its} light and pavement to be the spot's: keep {one} there."


def stations_answer(
    when: str, works: Sequence[Working | None], least: tuple[str, float] | None, head: str, besides: str = ""
) -> Said:
    """'Three stations, Saturday ..., from 17:00. All three setups work as it starts. ...'

    works: of each station, None without a setup. least: the station with the least width left, and that width.
    head: the strictest answer of the rules in a few words. besides: sentences that stand with whether they work.
    """
    count = count_words(len(works), "station", "stations")
    start = said("", f"{count[0].upper()}{count[1:]}", f": {when}. ") + _working_words(works) + said(besides)
    width = said(" Least width left for walkers: ", f"{left_words(least[1])} at {least[0]}", ".") if least else said(
        " Width left for walkers: ", "not known", "."
    )  # fmt: skip
    return start + width + said(" Strictest rule: ", f"{head[:1].lower()}{head[1:]}", ".")


def one_setting_words(names: Sequence[str], found: OneSetting) -> Said:
    """'One setting for all: 1/160 s, f/5.6, ISO 200. At A the surroundings come 1/3 stop brighter than it wants.'"""
    settings = found.dialled.settings.words
    off = [_off(name, over) for name, over in zip(names, found.over_stops, strict=True) if abs(over) >= 0.05]
    wants = f"Against what each wants, the surroundings come out: {listed(off)}."
    rest = f" {wants if off else 'The surroundings come out as every station wants.'}"
    if found.dialled.fit != "fits":
        return said("No one setting: ", "the light is off the cameras' dials", f" ({settings}).{rest}")
    if found.fits:
        return said("One setting for all stations: ", settings, f".{rest}")
    return said(
        "One setting does not do for all: ", "dial anew at each station", f". Nearest would be {settings}.{rest}"
    )


def changed_words(changes: Sequence[tuple[str, str, str]]) -> str:
    """(what, before, after): 'width left for walkers from not measured to 1.35 m, and ...'."""
    return listed([f"{what} from {before} to {after}" for what, before, after in changes])


def _working_words(works: Sequence[Working | None]) -> Said:
    known = [each for each in works if each is not None]
    without = len(works) - len(known)
    rest = f" {count_words(without, 'has', 'have').capitalize()} no setup yet." if without else ""
    if not known:
        return said("", "No setup is chosen yet", ".")
    failing, moved = known.count("not"), known.count("once moved")
    if not failing and not moved:
        all_of = "The setup works" if len(known) == 1 else "All setups work"
        return said("", all_of, f" as it starts.{rest}")
    parts = []
    if failing:
        parts.append(f"{count_words(failing, 'setup does', 'setups do')} not work")
    if moved:
        parts.append(
            f"{count_words(moved, 'works' if failing else 'setup works', 'work' if failing else 'setups work')} only "
            "once lights are moved"
        )
    head = listed(parts)
    return said("", f"{head[0].upper()}{head[1:]}", f" as it starts.{rest}")


def _off(name: str, over: float) -> str:
    return f"{name} {stops_said(abs(over))} {'brighter' if over > 0 else 'darker'}"
