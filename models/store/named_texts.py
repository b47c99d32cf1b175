"""Names that an organiser typed into what is kept of a workshop, emptied on the day its people are erased.

They stand in the notes of the day, in who talks, in the hazards sheet's who and first-aider, in who has spares, and in
the versions of the briefing that were issued with them. Put aside or not makes no difference.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.briefings import texts, versions
from models.store.happenings import happenings
from models.store.hazards import sheets
from models.store.people import people
from models.store.plans import plans
from models.words.briefing import SPARES
from models.words.hazards import EVERYONE, HOLDER, ORGANISER, WATCHER
from models.workshop.hazards import HazardLine

USUAL = ("", WATCHER, HOLDER, ORGANISER, EVERYONE)
"""Who sees to a hazard without being named."""
GONE = "(erased)"
TABLES = ("happenings", "plans", "hazard_sheets", "briefing_texts", "briefing_versions")


def left_by_all(s: Session, person_ids: Iterable[int] | None = None) -> set[int]:
    """Numbers of workshops that had people, all of whom are erased; of these people's alone, None for all."""
    open_ones = sa.func.sum(sa.case((people.c.erased_on.is_(None), 1), else_=0))
    query = sa.select(people.c.workshop_id).group_by(people.c.workshop_id).having(open_ones == 0)
    if person_ids is not None:
        theirs = sa.select(people.c.workshop_id).where(people.c.id.in_(set(person_ids)))
        query = query.where(people.c.workshop_id.in_(theirs))
    return set(s.scalars(query))


def empty_named(s: Session, workshop_ids: Collection[int]) -> int:
    """Empty them of these workshops, with no way back; how many texts, sheets, plans and versions held any."""
    columns = (
        (happenings, happenings.c.note),
        (plans, plans.c.talks),
    )
    emptied = sum(_emptied(s, table, column, workshop_ids) for table, column in columns)
    return emptied + _sheets(s, workshop_ids) + _texts(s, workshop_ids) + _versions(s, workshop_ids)


def _emptied(s: Session, table: sa.Table, column: sa.Column[Any], workshop_ids: Collection[int]) -> int:
    query = sa.update(table).where(table.c.workshop_id.in_(workshop_ids), column != "")
    return len(s.execute(query.values({"version": table.c.version + 1, column.name: ""}).returning(table.c.id)).all())


def _sheets(s: Session, workshop_ids: Collection[int]) -> int:
    columns = sheets.c
    query = sa.select(columns.id, columns.lines, columns.first_aider).where(columns.workshop_id.in_(workshop_ids))
    changed = 0
    for number, lines, first_aider in s.execute(query).all():
        unnamed = tuple(map(_unnamed, lines))
        if first_aider or unnamed != lines:
            values = {"version": columns.version + 1, "lines": unnamed, "first_aider": ""}
            s.execute(sa.update(sheets).where(columns.id == number).values(values))
            changed += 1
    return changed


def _unnamed(line: HazardLine) -> HazardLine:
    return line if line.who in USUAL else replace(line, who="")


def _texts(s: Session, workshop_ids: Collection[int]) -> int:
    query = sa.select(texts.c.id, texts.c.texts).where(texts.c.workshop_id.in_(workshop_ids))
    changed = 0
    for number, kept in s.execute(query).all():
        rest = tuple((key, words) for key, words in kept if key != SPARES)
        if len(rest) < len(kept):
            values = {"version": texts.c.version + 1, "texts": rest}
            s.execute(sa.update(texts).where(texts.c.id == number).values(values))
            changed += 1
    return changed


def _versions(s: Session, workshop_ids: Collection[int]) -> int:
    columns = versions.c
    query = sa.select(columns.workshop_id, columns.number, columns.facts).where(columns.workshop_id.in_(workshop_ids))
    changed = 0
    for workshop_id, number, facts in s.execute(query).all():
        unnamed = _facts(facts)
        if unnamed != facts:
            one = sa.and_(columns.workshop_id == workshop_id, columns.number == number)
            s.execute(sa.update(versions).where(one).values(facts=unnamed))
            changed += 1
    return changed


def _facts(facts: Mapping[str, Any]) -> dict[str, Any]:
    """As kept (workshop/briefing_json.py), with the names taken out of the paragraphs they were filled into."""
    organiser = facts.get("organiser", "")
    names = [name for key in ("talks", "spares") if (name := facts.get(key, "")) not in ("", organiser)]
    paragraphs = {key: _without(words, names) for key, words in facts.get("paragraphs", {}).items()}
    hazards = [_without_who(line) for line in facts.get("hazards", ())]
    bare = dict.fromkeys(("talks", "first_aider"), "") | ({"spares": ""} if facts.get("spares") in names else {})
    return {**facts, **{key: "" for key in bare if key in facts}, "paragraphs": paragraphs, "hazards": hazards}


def _without(words: str, names: Iterable[str]) -> str:
    for name in names:
        words = words.replace(name, GONE)
    return words


def _without_who(line: str) -> str:
    """A hazard ends in who sees to it, in brackets; where that is nobody's usual part, it is left out."""
    if not line.endswith(")") or any(line.endswith(f" ({part})") for part in USUAL):
        return line
    depth = 0
    for place in range(len(line) - 1, 0, -1):
        depth += {")": 1, "(": -1}.get(line[place], 0)
        if depth == 0:
            return line[:place].rstrip()
    return line
