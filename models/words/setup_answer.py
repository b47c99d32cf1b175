"""Whether a setup works, in a sentence or two: what has to move, what to dial, which light cannot by how much."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from models.light.series import metres_words
from models.light.setup import ON_THE_FACE, Setup, SetupFigures
from models.light.solve import Solved, SolvedLight
from models.words.said import Said, listed, said
from models.words.setup import stops_said

_STAYS_M = 1e-9


def light_names(setup: Setup) -> tuple[str, ...]:
    """What each light is called: by its role, numbered where several have one ('key 1', 'key 2')."""
    count = Counter(light.role for light in setup.lights)
    seen: Counter[str] = Counter()
    names = []
    for light in setup.lights:
        seen[light.role] += 1
        names.append(f"{light.role} {seen[light.role]}" if count[light.role] > 1 else light.role)
    return tuple(names)


def solved_answer(solved: Solved) -> Said:
    """'Works: key at 1/4, fill at 1/16, surroundings 2/3 stop under. The edge lacks 0.7 stop.'

    Where a light has to move for it, that is said first: 'Works if the key comes from 6.8 m to 2.4 m: ...'
    """
    names = light_names(solved.setup)
    if solved.dialled.fit != "fits":
        return _off_the_dials(solved)
    if solved.ambient_exposes:
        return said("Not needed: ", "the light already there exposes the face", f" at {_settings(solved)}.")
    failing = [(name, one) for name, one in zip(names, solved.lights, strict=True) if one.cannot_stops]
    if not face_works(solved):
        return said("Does not work here: ", listed([_cannot(name, one) for name, one in failing]), f".{_rest(solved)}")
    moves = moves_words(solved)
    head = said(
        "",
        f"Works{moves and f' if {moves}'}",
        f": {_powers(solved, names)} at {_settings(solved)}{surroundings_said(solved.figures)}.",
    )
    beside = [f" The {_cannot(name, one)}." for name, one in failing]
    return head + said("".join(beside)) if beside else head


def face_works(solved: Solved) -> bool:
    """Whether the face comes right, lights moved if need be; a light beside the face may fail."""
    failing = any(one.cannot_stops and one.light.role in ON_THE_FACE for one in solved.lights)
    return solved.dialled.fit == "fits" and not failing


def short_verdict(solved: Solved) -> str:
    """The head of the answer: "it works if the key comes nearer", "it works, without the edge", empty if it fails."""
    if not face_works(solved):
        return ""
    named = tuple(zip(light_names(solved.setup), solved.lights, strict=True))
    moved = [f"the {name} {_way(one)}" for name, one in named if one.moved_m and not one.cannot_stops]
    without = [f"the {name}" for name, one in named if one.cannot_stops]
    moves = f" if {listed(moved)}" if moved else ""
    return f"it works{moves}{f', without {listed(without)}' if without else ''}"


def moves_words(solved: Solved, kept: Setup | None = None) -> str:
    """'the key comes from 6.8 m to 2.4 m and the edge goes from 1 m to 1.6 m', empty where every light that comes right
    stays where it is. kept: where they stood, if not where the solving began."""
    moves = []
    for place, (name, one) in enumerate(zip(light_names(solved.setup), solved.lights, strict=True)):
        there_m = one.light.distance_m
        kept_m = kept.lights[place].distance_m if kept else there_m - one.moved_m
        if abs(there_m - kept_m) > _STAYS_M and one.light.power and not one.cannot_stops:
            way = "comes" if there_m < kept_m else "goes"
            moves.append(f"the {name} {way} from {metres_words(kept_m)} m to {metres_words(there_m)} m")
    return listed(moves)


def kept_answer(setup: Setup, figures: SetupFigures) -> Said:
    """'As kept: the face comes 7.8 stops under, at 1/200 s, f/8, ISO 100. The key gives 7.8 stops under.'"""
    over, settings = figures.face_over_stops, setup.settings.words
    lights = [
        f"the {name} {_gives(one.over_stops)}" for name, one in zip(light_names(setup), figures.lights, strict=True)
    ]
    each = f" {_start(listed(lights))}."
    if over is None:
        return said("As kept: ", "no light falls on the face", f", at {settings}.{each}")
    face = "the face comes right" if abs(over) < 0.05 else f"the face comes {_off(over)}"
    return said("As kept: ", face, f", at {settings}{surroundings_said(figures)}.{each}")


def surroundings_said(figures: SetupFigures) -> str:
    """', surroundings 2/3 stop under', empty without a backdrop."""
    under = figures.surroundings_under_stops
    if under is None:
        return ""
    if abs(under) < 0.05:
        return ", surroundings as bright as exposed"
    return f", surroundings {stops_said(abs(under))} {'under' if under > 0 else 'over'}"


def rung_said(one: SolvedLight) -> str:
    """'at 1/4', 'off', with both distances where it has to move."""
    if not one.light.power:
        return "off"
    if not one.moved_m:
        return f"at {one.rung.words}"
    kept_m = metres_words(one.light.distance_m - one.moved_m)
    return f"at {one.rung.words} from {metres_words(one.light.distance_m)} m (you put it at {kept_m} m)"


def _off_the_dials(solved: Solved) -> Said:
    off = stops_said(abs(solved.dialled.off_stops))
    much = "bright" if solved.dialled.fit == "too bright" else "dark"
    return said("Does not work here: ", f"it is {off} too {much} for the camera's dials", f", at {_settings(solved)}.")


def _rest(solved: Solved) -> str:
    fine = [
        f"{name} {rung_said(one)}"
        for name, one in zip(light_names(solved.setup), solved.lights, strict=True)
        if not one.cannot_stops
    ]
    settings = f" That is at {_settings(solved)}{surroundings_said(solved.figures)}."
    return settings + (f" {_start(listed(fine))} would do." if fine else "")


def _powers(solved: Solved, names: Sequence[str]) -> str:
    return ", ".join(
        f"{name} {f'at {one.rung.words}' if one.light.power else 'off'}"
        for name, one in zip(names, solved.lights, strict=True)
        if not one.cannot_stops
    )


def _cannot(name: str, one: SolvedLight) -> str:
    kept_m = metres_words(one.light.distance_m - one.moved_m)
    moved = f" (you put it at {kept_m} m)" if one.moved_m else ""
    where = f"{metres_words(one.light.distance_m)} m{moved}"
    if one.cannot_stops > 0:
        return f"{name} light lacks {stops_said(one.cannot_stops)} at full power and {where}"
    return f"{name} light gives {stops_said(-one.cannot_stops)} too much at its lowest power and {where}"


def _way(one: SolvedLight) -> str:
    return "comes nearer" if one.moved_m < 0 else "goes further off"


def _gives(over_stops: float | None) -> str:
    if over_stops is None:
        return "is off"
    return f"gives {_off(over_stops)}" if abs(over_stops) >= 0.05 else "gives the working aperture"


def _off(over_stops: float) -> str:
    return f"{stops_said(abs(over_stops))} {'over' if over_stops > 0 else 'under'}"


def _settings(solved: Solved) -> str:
    return solved.setup.settings.words


def _start(words: str) -> str:
    return words[:1].upper() + words[1:]
