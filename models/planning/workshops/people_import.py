"""A pasted list or a CSV file of people: what was understood line by line, then, on another press, kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy.orm import Session

from models.exchange.people_csv import PersonLine, read_people
from models.problems import InputProblem
from models.store import people as kept
from models.store import rules
from models.store.engine import Store
from models.workshop.person import PARTS, Part, PersonDraft, checked_person

ALIKE = {"attendees": "attendee", "models": "model", "helpers": "helper"}


@dataclass(frozen=True, slots=True)
class LineShown:
    """A line as it would be kept. there: the same name and contact is on the list, or stands above, and is left."""

    line: int
    name: str
    part: str
    more: tuple[tuple[str, str], ...]
    there: bool


@dataclass(frozen=True, slots=True)
class PeoplePreview:
    """refused: (which line, what is wrong); with any, nobody comes in."""

    answer: str
    rows: tuple[LineShown, ...]
    refused: tuple[tuple[str, str], ...]
    ignored: tuple[str, ...]
    new: int


def preview_people(store: Store, workshop_id: int, text: str, part: str) -> PeoplePreview:
    """Keeps nothing. part: of a line that names none. Raises Missing."""
    with store.reading() as s:
        rules.get_workshop(s, workshop_id)
        rows, _, refused, ignored = _read(s, workshop_id, text, part)
    new = sum(not row.there for row in rows)
    return PeoplePreview(_answer(rows, refused, new), tuple(rows), tuple(refused), ignored, new)


def import_people(store: Store, workshop_id: int, text: str, part: str) -> str:
    """Keep the people of a list, all or none; in words how many. Raises InputProblem where a line is refused."""
    with store.writing() as s:
        rules.get_workshop(s, workshop_id)
        rows, drafts, refused, _ = _read(s, workshop_id, text, part)
        if refused:
            raise InputProblem("text", f"{len(refused)} lines cannot be read")
        new = [draft for row, draft in zip(rows, drafts, strict=True) if not row.there]
        kept.shelf.add_all(s, new)
    stay = f"; {len(rows) - len(new)} on the list already" if len(new) < len(rows) else ""
    return f"{_people(len(new))} put on the list{stay}."


def _read(
    s: Session, workshop_id: int, text: str, part: str
) -> tuple[list[LineShown], list[PersonDraft], list[tuple[str, str]], tuple[str, ...]]:
    try:
        usual = _part(part)
        found = read_people(text)
    except InputProblem as problem:
        return [], [], [("The list", problem.message)], ()
    there = {_mark(each) for each in kept.people_of(s, workshop_id)}
    rows, drafts, refused = [], [], []
    for line in found.lines:
        try:
            draft = _draft(line, workshop_id, usual)
        except InputProblem as problem:
            refused.append((f"Line {line.line}", f"{problem.field.replace('_', ' ')}: {problem.message}"))
            continue
        rows.append(_shown(line, draft, there=_mark(draft) in there))
        there.add(_mark(draft))
        drafts.append(draft)
    return rows, drafts, refused, found.ignored


def _draft(line: PersonLine, workshop_id: int, usual: Part) -> PersonDraft:
    cells: Mapping[str, str] = {name: text for name, text in line.cells.items() if name != "part"}
    typed = line.cells.get("part", "")
    part = _part(typed) if typed else usual
    return checked_person(PersonDraft(workshop_id=workshop_id, part=part, **({"name": ""} | dict(cells))))  # type: ignore[arg-type]


def _part(typed: str) -> Part:
    word = typed.strip().lower()
    for part in PARTS:
        if ALIKE.get(word, word) == part:
            return part
    raise InputProblem("part", f"“{typed[:40]}” is not known; choose {', '.join(PARTS)}")


def _mark(person: PersonDraft) -> tuple[str, str]:
    return person.name.casefold(), person.contact.casefold()


def _shown(line: PersonLine, draft: PersonDraft, *, there: bool) -> LineShown:
    names = [name for name in line.cells if name not in ("name", "part")]
    more = tuple((name.replace("_", " "), str(getattr(draft, name))) for name in names if getattr(draft, name))
    return LineShown(line.line, draft.name, draft.part, more, there)


def _answer(rows: Iterable[LineShown], refused: list[tuple[str, str]], new: int) -> str:
    many = len(list(rows))
    if refused:
        things = "1 line is" if len(refused) == 1 else f"{len(refused)} lines are"
        return f"Nobody can come in until {things} put right. All that you typed is below."
    if not many:
        return "There is nobody on that list."
    if not new:
        return "Everybody on that list is there already."
    stay = f"; {many - new} there already" if new < many else ""
    return f"{_people(new)} can be put on the list{stay}. Nothing is kept yet."


def _people(number: int) -> str:
    return "1 person" if number == 1 else f"{number} people"
