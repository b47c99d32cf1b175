"""The texts of a briefing in force: the usual words, over them the organiser's own, over those the workshop's."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy.orm import Session

from models.store.briefings import texts_of
from models.words.briefing import LISTS, PARAGRAPHS, TEXT_KEYS, brackets, filled, usual
from models.workshop.briefing import Facts


def inherited(s: Session, workshop_id: int | None) -> dict[str, str]:
    """What holds where a workshop (None: where the organiser) changes nothing."""
    words = {key: usual(key) for key in TEXT_KEYS}
    return words if workshop_id is None else words | texts_of(s, None).by_key


def in_force(s: Session, workshop_id: int | None) -> dict[str, str]:
    """Every text by key, '' for one that is not said."""
    return inherited(s, workshop_id) | texts_of(s, workshop_id).by_key


def items(words: Mapping[str, str], key: str) -> tuple[str, ...]:
    """A list, one item a line."""
    return tuple(line.strip() for line in words[key].splitlines() if line.strip()) if key in LISTS else ()


def told(words: Mapping[str, str], facts: Facts, groups: Mapping[str, str]) -> dict[str, str]:
    """The paragraphs with their brackets filled in from the facts. groups: those of how groups work."""
    known = {**brackets(facts), **groups}
    return {key: filled(words[key], known) for key in PARAGRAPHS}
