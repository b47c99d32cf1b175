"""Rule areas from a file: what was understood and what was refused, by name, before anything is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from models.exchange.areas import read_areas
from models.exchange.features import Source
from models.planning.rules.corners import outline_words
from models.problems import FileProblems, InputProblem
from models.rules.areas import KINDS, AreaDraft
from models.store import rules as kept
from models.store.engine import Store
from models.words.said import counted


@dataclass(frozen=True, slots=True)
class Understood:
    """An area of the file as it would be kept. there: one of this name and outline is kept already and stays."""

    name: str
    kind_words: str
    authority: str
    no_passing: bool
    outline: str
    there: bool


@dataclass(frozen=True, slots=True)
class AreasPreview:
    """What a file holds. refused: (which feature, what is wrong); with any, nothing of the file comes in."""

    answer: str
    areas: tuple[Understood, ...]
    refused: tuple[tuple[str, str], ...]
    new: int


def preview_areas(store: Store, source: Source, *, kind: str = "", authority: str = "") -> AreasPreview:
    """kind, authority: for areas that name none of their own. Keeps nothing."""
    try:
        drafts = read_areas(source, kind=kind, authority=authority)
    except InputProblem as problem:
        parts = problem.problems if isinstance(problem, FileProblems) else (problem,)
        refused = tuple((part.field, part.message) for part in parts)
        things = f"{counted(len(refused), 'thing')} in the file {_is(len(refused))}"
        answer = f"Nothing can come in until {things} put right."
        return AreasPreview(answer, (), refused, 0)
    there = _there(store, drafts)
    areas = tuple(_understood(draft, there=there_already) for draft, there_already in zip(drafts, there, strict=True))
    new = there.count(False)
    return AreasPreview(_answer(new, len(drafts)), areas, (), new)


def import_areas(store: Store, source: Source, *, kind: str = "", authority: str = "") -> tuple[str, ...]:
    """Keep the areas of a file, all or none; in sentences what came in. Raises InputProblem or FileProblems."""
    drafts = read_areas(source, kind=kind, authority=authority)
    there = _there(store, drafts)
    new = [draft for draft, already in zip(drafts, there, strict=True) if not already]
    with store.writing() as s:
        kept.add_areas(s, new)
    stay = len(drafts) - len(new)
    words = [f"{counted(len(new), 'area')} brought in. No rule came with {'it' if len(new) == 1 else 'them'}."]
    if stay:
        words.append(
            f"{counted(stay, 'area')} of the same name and outline {_was(stay)} there already and {_stays(stay)}."
        )
    return tuple(words)


def _there(store: Store, drafts: Sequence[AreaDraft]) -> list[bool]:
    with store.reading() as s:
        known = {_mark(area) for area in kept.list_areas(s, limit=None)}
    return [_mark(draft) in known for draft in drafts]


def _mark(area: AreaDraft) -> tuple[str, frozenset[frozenset[tuple[float, float]]]]:
    """Name and corners, wherever a ring begins and whichever way it runs."""
    return area.name.casefold(), frozenset(frozenset(ring) for rings in area.shape for ring in rings)


def _understood(draft: AreaDraft, *, there: bool) -> Understood:
    outline = outline_words(draft.shape)
    return Understood(draft.name, KINDS[draft.kind], draft.authority, draft.no_passing, outline, there)


def _answer(new: int, total: int) -> str:
    if not total:
        return "The file holds no areas."
    if not new:
        return f"{'The area' if total == 1 else f'All {total} areas'} of the file {_is(total)} there already."
    stay = f"; {total - new} {_is(total - new)} there already" if new < total else ""
    return f"{counted(new, 'area')} can come in{stay}. Nothing is kept yet."


def _is(count: int) -> str:
    return "is" if count == 1 else "are"


def _was(count: int) -> str:
    return "was" if count == 1 else "were"


def _stays(count: int) -> str:
    return "stays as it is" if count == 1 else "stay as they are"
