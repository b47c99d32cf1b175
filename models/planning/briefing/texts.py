"""Changing the texts of a briefing, for every workshop or for one: what is typed, and what holds where nothing is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from models.planning.briefing.paragraphs import in_force, inherited
from models.problems import InputProblem, InputProblems
from models.rules.workshop import Workshop
from models.store.briefings import Texts, TextsDraft, checked_texts, keep_texts, texts_of
from models.store.engine import Store
from models.store.rules import get_workshop
from models.words.briefing import FILLED_IN, LINES, LISTS, PARAGRAPHS, TEXT_KEYS, brackets_in, title_of

USUAL = "usual_"
"""Before a field's name: back to the usual words."""


@dataclass(frozen=True, slots=True)
class TextField:
    """name: of the field. usual: what holds where nothing is changed here. changed: other than that. readers: whose
    briefing it stands in. kind: "paragraph", "list" (one item a line) or "line"."""

    name: str
    title: str
    kind: str
    usual: str
    changed: bool
    readers: tuple[str, ...]
    hint: str


@dataclass(frozen=True, slots=True)
class TextsPage:
    """workshop: None for the texts of every workshop. version: 0 where nothing is kept. form: by name, what holds."""

    workshop: Workshop | None
    version: int
    fields: tuple[TextField, ...]
    form: Mapping[str, str]
    brackets: tuple[str, ...] = FILLED_IN


def texts_page(store: Store, workshop_id: int | None) -> TextsPage:
    """Raises Missing."""
    with store.reading() as s:
        workshop = None if workshop_id is None else get_workshop(s, workshop_id)
        kept, usual, words = texts_of(s, workshop_id), inherited(s, workshop_id), in_force(s, workshop_id)
    return TextsPage(
        workshop=workshop,
        version=kept.version if isinstance(kept, Texts) else 0,
        fields=tuple(_field(key, usual[key], changed=words[key] != usual[key]) for key in TEXT_KEYS),
        form={name_of(key): words[key] for key in TEXT_KEYS},
    )


def change_texts(store: Store, workshop_id: int | None, version: int, form: Mapping[str, str]) -> Texts:
    """version: 0 where none were kept yet. What reads as the usual words is not kept, and follows them from then on;
    what the form leaves out stays. Raises Clash where somebody was faster, Missing, InputProblems by field."""
    with store.reading() as s:
        if workshop_id is not None:
            get_workshop(s, workshop_id)
        before, usual = texts_of(s, workshop_id).by_key, inherited(s, workshop_id)
    typed = {key: _typed(key, form, before.get(key, usual[key])) for key in TEXT_KEYS}
    back = {key for key in TEXT_KEYS if form.get(USUAL + name_of(key)) == "yes"}
    tidy = _checked(workshop_id, {key: text for key, text in typed.items() if key not in back})
    changed = tuple((key, text) for key, text in tidy.items() if text != usual[key])
    with store.writing() as s:
        return keep_texts(s, version, TextsDraft(workshop_id=workshop_id, texts=changed))


def name_of(key: str) -> str:
    """Of the field: a key without blanks."""
    return key.replace(" ", "_")


def _field(key: str, usual: str, *, changed: bool) -> TextField:
    readers = PARAGRAPHS[key].readers if key in PARAGRAPHS else ()
    kind = "paragraph" if key in PARAGRAPHS else "list" if key in LISTS else "line"
    hint = LINES[key][1] if key in LINES else ""
    return TextField(name_of(key), title_of(key), kind, usual, changed, readers, hint)


def _typed(key: str, form: Mapping[str, str], kept: str) -> str:
    return form.get(name_of(key), kept).replace("\r\n", "\n").replace("\r", "\n")


def _checked(workshop_id: int | None, typed: Mapping[str, str]) -> dict[str, str]:
    """Each text in order, or every problem at once."""
    tidy: dict[str, str] = {}
    problems: dict[str, str] = {}
    for key, text in typed.items():
        try:
            tidy |= checked_texts(TextsDraft(workshop_id=workshop_id, texts=((key, text),))).by_key
            _must_be_known(key, text)
        except InputProblem as problem:
            problems[name_of(key)] = problem.message
    if problems:
        raise InputProblems(problems)
    return tidy


def _must_be_known(key: str, text: str) -> None:
    unknown = brackets_in(text) if key in PARAGRAPHS else []
    if unknown:
        known = ", ".join(f"[{each}]" for each in FILLED_IN)
        raise InputProblem(key, f"“[{unknown[0][:40]}]” is nothing that can be filled in. There are {known}.")
