"""Whether a setup works, in a sentence or two: what to dial, and which light cannot by how much."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from models.light.setup import ON_THE_FACE, Setup, SetupFigures
from models.light.solve import Solved, SolvedLight
from models.words.said import Said, listed, said
from models.words.setup import stops_said


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
    """'Works: key at 1/4, fill at 1/16, surroundings 2/3 stop under. The edge lacks 0.7 stop.'"""
    names = light_names(solved.setup)
    if solved.dialled.fit != "fits":
        return _off_the_dials(solved)
    if solved.ambient_exposes:
        return said("Not needed: ", "the light already there exposes the face", f" at {_settings(solved)}.")
    failing = [(name, one) for name, one in zip(names, solved.lights, strict=True) if one.cannot_stops]
    if any(one.light.role in ON_THE_FACE for _, one in failing):
        return said("Does not work here: ", listed([_cannot(name, one) for name, one in failing]), f".{_rest(solved)}")
    head = said("", "Works", f": {_powers(solved, names)} at {_settings(solved)}{surroundings_said(solved.figures)}.")
    beside = [f" The {_cannot(name, one)}." for name, one in failing]
    return head + said("".join(beside)) if beside else head


def surroundings_said(figures: SetupFigures) -> str:
    """', surroundings 2/3 stop under', empty without a backdrop."""
    under = figures.surroundings_under_stops
    if under is None:
        return ""
    if abs(under) < 0.05:
        return ", surroundings as bright as exposed"
    return f", surroundings {stops_said(abs(under))} {'under' if under > 0 else 'over'}"


def rung_said(one: SolvedLight) -> str:
    """'at 1/4', 'off', with the distance where it has to move."""
    if not one.light.power:
        return "off"
    return f"at {one.rung.words}" + (f" from {one.light.distance_m:.1f} m" if one.moved_m else "")


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
        f"{name} {rung_said(one)}" for name, one in zip(names, solved.lights, strict=True) if not one.cannot_stops
    )


def _cannot(name: str, one: SolvedLight) -> str:
    if one.cannot_stops > 0:
        return f"{name} light lacks {stops_said(one.cannot_stops)} at full power and {one.light.distance_m:.1f} m"
    off = stops_said(-one.cannot_stops)
    return f"{name} light gives {off} too much at its lowest power and {one.light.distance_m:.1f} m"


def _settings(solved: Solved) -> str:
    return solved.setup.settings.words


def _start(words: str) -> str:
    return words[:1].upper() + words[1:]
