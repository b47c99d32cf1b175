"""Setups kept, changed, moved light by light, put aside and brought back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from models.light.placing import FACE_M, clock_half_hours
from models.light.solve import Solved
from models.problems import InputProblem
from models.store.engine import Store
from models.store.setups import RANGES, KeptSetup, LightDraft, SetupDraft, Try, list_setups, shelf
from models.store.versions import drafted
from models.words.setup import clock_words

STEP_M = 0.25
TURN_DEG = 15.0
"""A third of a pace, and half an hour on the model's clock, at a press."""


def get_setup(store: Store, setup_id: int) -> KeptSetup:
    """Raises Missing."""
    with store.reading() as s:
        return shelf.get(s, setup_id)


def all_setups(store: Store) -> tuple[KeptSetup, ...]:
    with store.reading() as s:
        return list_setups(s)


def add_setup(store: Store, draft: SetupDraft) -> KeptSetup:
    with store.writing() as s:
        return shelf.add(s, draft)


def copy_setup(store: Store, setup_id: int) -> KeptSetup:
    """Raises Missing."""
    with store.writing() as s:
        draft = drafted(SetupDraft, shelf.get(s, setup_id))
        return shelf.add(s, replace(draft, title=f"{draft.title[:100]}, copy"))


def change_setup(store: Store, setup_id: int, version: int, draft: SetupDraft) -> KeptSetup:
    """Spots and hours kept with it stay. Raises Clash where somebody changed it in between, Missing."""
    with store.writing() as s:
        tries = shelf.find(s, setup_id)[0].tries
        return shelf.change(s, setup_id, version, replace(draft, tries=tries))


def delete_setup(store: Store, setup_id: int, version: int, *, now: datetime) -> KeptSetup:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return shelf.delete(s, setup_id, version, now=now)


def restore_setup(store: Store, setup_id: int) -> KeptSetup:
    with store.writing() as s:
        return shelf.restore(s, setup_id)


def take_powers(store: Store, setup_id: int, version: int, solved: Solved) -> KeptSetup:
    """The settings, powers and distances found, in place of those kept. Raises Clash, Missing."""
    with store.writing() as s:
        draft = drafted(SetupDraft, shelf.find(s, setup_id)[0])
        lights = tuple(
            replace(light, power=one.light.power, distance_m=one.light.distance_m)
            for light, one in zip(draft.lights, solved.lights, strict=True)
        )
        taken = replace(draft, settings=solved.setup.settings, lights=lights)
        return shelf.change(s, setup_id, version, taken)


def move_light(store: Store, setup_id: int, version: int, number: int, move: str) -> KeptSetup:
    """One light (from 1) a step nearer, further, left, right, higher or lower. Raises Clash, Missing, InputProblem."""
    with store.writing() as s:
        draft = drafted(SetupDraft, shelf.find(s, setup_id)[0])
        if not 1 <= number <= len(draft.lights) or move not in MOVES:
            raise InputProblem("move", "choose a light and one of the moves")
        lights = list(draft.lights)
        lights[number - 1] = MOVES[move](lights[number - 1])
        return shelf.change(s, setup_id, version, replace(draft, lights=tuple(lights)))


def place_light(
    store: Store, setup_id: int, version: int, number: int, *, axis_deg: float, distance_m: float, height_m: float
) -> KeptSetup:
    """One light (from 1) exactly there. Raises Clash, Missing, InputProblem."""
    with store.writing() as s:
        draft = drafted(SetupDraft, shelf.find(s, setup_id)[0])
        if not 1 <= number <= len(draft.lights):
            raise InputProblem("move", "choose a light of this setup")
        if not distance_m > abs(height_m - FACE_M):
            raise InputProblem("distance_m", "the light cannot be nearer to the face than it is above or below it")
        lights = list(draft.lights)
        light = lights[number - 1]
        lights[number - 1] = replace(light, axis_deg=axis_deg, distance_m=distance_m, height_m=height_m)
        return shelf.change(s, setup_id, version, replace(draft, lights=tuple(lights)))


def keep_try(store: Store, setup_id: int, version: int, tried: Try) -> KeptSetup:
    """A spot and hour kept with a setup. Raises Clash, Missing, InputProblem for too many."""
    with store.writing() as s:
        draft = drafted(SetupDraft, shelf.find(s, setup_id)[0])
        tries = tuple(one for one in draft.tries if one != tried)
        return shelf.change(s, setup_id, version, replace(draft, tries=(*tries, tried)))


def moved_words(before: LightDraft, after: LightDraft) -> str:
    """'from 2 m to 2.25 m', 'height from 2 m to 2.25 m', 'from 10 o'clock to half past 10'."""
    if before.distance_m != after.distance_m:
        return f"from {before.distance_m:.4g} m to {after.distance_m:.4g} m"
    if before.height_m != after.height_m:
        return f"height from {before.height_m:.4g} m to {after.height_m:.4g} m"
    was, is_now = (clock_words(clock_half_hours(light.axis_deg)) for light in (before, after))
    return f"from {was} to {is_now}"


def _stepped(light: LightDraft, change_m: float) -> LightDraft:
    low, high, _ = RANGES["distance_m"]
    least = max(low, abs(light.height_m - FACE_M) + 0.05)
    return replace(light, distance_m=round(min(max(light.distance_m + change_m, least), high), 3))


def _turned(light: LightDraft, left: bool) -> LightDraft:
    """As the camera sees it: behind the model left is the other way round the clock. Straight beside the model the
    outward press goes on behind."""
    front = abs(light.axis_deg) <= 90
    turn = -TURN_DEG if left == front else TURN_DEG
    return replace(light, axis_deg=(light.axis_deg + turn + 180) % 360 - 180)


def _raised(light: LightDraft, change_m: float) -> LightDraft:
    low, high, _ = RANGES["height_m"]
    reach = light.distance_m - 0.05
    height = min(max(light.height_m + change_m, low, FACE_M - reach), high, FACE_M + reach)
    return replace(light, height_m=round(height, 3))


MOVES: dict[str, Callable[[LightDraft], LightDraft]] = {
    "nearer": lambda light: _stepped(light, -STEP_M),
    "further": lambda light: _stepped(light, STEP_M),
    "more left": lambda light: _turned(light, left=True),
    "more right": lambda light: _turned(light, left=False),
    "higher": lambda light: _raised(light, STEP_M),
    "lower": lambda light: _raised(light, -STEP_M),
}
