"""What a running order warns of, in words: what happens, by how much, what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import datetime

from models.words.running import BLOCK_WORDS, lasts_words
from models.words.said import listed
from models.words.setup import stops_said
from models.words.street import NOT_COUNTED
from models.workshop.warnings import Kind, Warned

OF_SEVERAL: tuple[Kind, ...] = (
    "sun reaches", "sun leaves", "sun not known", "light moved", "light not known", "not counted", "no gap",
)  # fmt: skip
"""Kinds whose sentence also holds with several stations in it."""


def warning_words(warned: Warned, names: Mapping[int, str]) -> str:
    """One warning as a sentence or two; its instant is shown beside it. names: of stations, by post."""
    return _WORDS[warned.kind](warned, "" if warned.post is None else names.get(warned.post, f"station {warned.post}"))


def warnings_said(warned: Sequence[Warned], names: Mapping[int, str]) -> Iterator[tuple[datetime, str]]:
    """Each with its instant, in order; what is the same at several stations in the same minute is said once."""
    alike: dict[tuple[datetime, str], list[Warned]] = {}
    for each in warned:
        minute = each.at.replace(second=0, microsecond=0)
        post = "" if each.kind in OF_SEVERAL else each.post
        alike.setdefault((minute, f"{post} {_WORDS[each.kind](each, '')}"), []).append(each)
    for same in alike.values():
        posts = [each.post for each in same if each.post is not None]
        where = listed([names.get(post, f"station {post}") for post in dict.fromkeys(posts)])
        yield same[0].at, _WORDS[same[0].kind](same[0], where)


def _sun_reaches(warned: Warned, where: str) -> str:
    return f"Sun reaches {where}: turn the model or shade the face, and read the light again."


def _sun_leaves(warned: Warned, where: str) -> str:
    return f"Sun leaves {where}: it gets darker within minutes. Read the light and dial again."


def _sun_not_known(warned: Warned, where: str) -> str:
    return f"Whether the sun is on {where} is not known here: look before you set up."


def _reserve_lacks(warned: Warned, where: str) -> str:
    return f"The setup at {where} does not beat the light, {_short_by(warned)}"


def _reserve_gone(warned: Warned, where: str) -> str:
    return f"The setup at {where} no longer beats the light, {_short_by(warned)}"


def _short_by(warned: Warned) -> str:
    return f"{stops_said(warned.amount)} short at its worst. Closer, barer, into shade, or later."


def _reserve_not_known(warned: Warned, where: str) -> str:
    return f"What the setup at {where} has in hand is not known here: read the light and try it at full power."


def _light_moved(warned: Warned, where: str) -> str:
    way = "brighter" if warned.amount > 0 else "darker"
    return f"Light at {where} is up to {stops_said(abs(warned.amount))} {way} than was planned for there: dial again."


def _light_not_known(warned: Warned, where: str) -> str:
    return f"The light at {where} is not known here: read it before the first frame."


def _window_begins(warned: Warned, where: str) -> str:
    left = lasts_words(warned.amount * 60)
    return f"{warned.what}: its hours begin here, {left} before all is packed up. Look up what holds from then on."


def _window_ends(warned: Warned, where: str) -> str:
    return f"{warned.what}: its hours end here, {lasts_words(warned.amount * 60)} before all is packed up."


def _set_runs_out(warned: Warned, where: str) -> str:
    when = (
        f"this turn, after {warned.amount:.0f} of about {warned.limit:.0f} flashes" if warned.amount else "the picture"
    )
    return f"Change the cells of the {warned.what} at {where} before {when}."


def _cells_tired(warned: Warned, where: str) -> str:
    return (
        f"Cells of the {warned.what} at {where} get tired: ready after about {warned.amount:.1f} s. Wait for it, or "
        "change them early."
    )


def _flash_rests(warned: Warned, where: str) -> str:
    return (
        f"A flash at {where} comes to its printed heat limit: {lasts_words(warned.amount)} of this round is waiting "
        "for it. Swap units, gang two at half the power, or work at less power."
    )


def _walk_back_dark(warned: Warned, where: str) -> str:
    return "It is dark on the way back: lamps or bright bands for everybody, walk together, count heads at the end."


def _dark_not_known(warned: Warned, where: str) -> str:
    return "Whether it is dark on the way back is not known here: take a lamp."


def _not_counted(warned: Warned, where: str) -> str:
    return f"Footfall {NOT_COUNTED} at this hour at {where}: no wait for a clear line is in these times."


def _no_gap(warned: Warned, where: str) -> str:
    return f"No gap is to be expected at {where} at this hour: it takes longer than this, nobody can say how much."


def _turn_too_long(warned: Warned, where: str) -> str:
    return f"One turn at {where} keeps the model on for longer than 20 minutes: fewer frames, or a rest within it."


def _block_too_short(warned: Warned, where: str) -> str:
    return f"Typed {lasts_words(warned.amount)} shorter than it is worked out to take."


def _way_not_known(warned: Warned, where: str) -> str:
    what = BLOCK_WORDS.get(warned.block, warned.block).lower()
    return f"How long this takes ({what}) is not known and not in these times: walk it once, or type its minutes."


def _over_time(warned: Warned, where: str) -> str:
    return f"The workshop ends here, and packing is done {lasts_words(warned.amount)} later."


_WORDS: dict[Kind, Callable[[Warned, str], str]] = {
    "sun reaches": _sun_reaches,
    "sun leaves": _sun_leaves,
    "sun not known": _sun_not_known,
    "reserve lacks": _reserve_lacks,
    "reserve gone": _reserve_gone,
    "reserve not known": _reserve_not_known,
    "light moved": _light_moved,
    "light not known": _light_not_known,
    "window begins": _window_begins,
    "window ends": _window_ends,
    "set runs out": _set_runs_out,
    "cells tired": _cells_tired,
    "flash rests": _flash_rests,
    "walk back dark": _walk_back_dark,
    "dark not known": _dark_not_known,
    "not counted": _not_counted,
    "no gap": _no_gap,
    "turn too long": _turn_too_long,
    "block too short": _block_too_short,
    "way not known": _way_not_known,
    "over time": _over_time,
}
