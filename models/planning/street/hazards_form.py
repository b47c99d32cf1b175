"""The form of a hazards sheet: the weather of the hour, what stands there, whom to call, line by line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from typing import get_args

from models.planning.street.weather_typed import figure_text, read_figure
from models.problems import InputProblem, InputProblems, noted
from models.store.hazards import Looked, SheetDraft, TypedHour, checked_draft
from models.workshop.hazards import EMERGENCY, MOST_LINES, HazardLine, Rests

YES, NO = "yes", "no"
SPARE_LINES = 2
WEATHER = tuple(field.name for field in fields(TypedHour))
LOOKED = tuple(field.name for field in fields(Looked))


def sheet_form_of(draft: SheetDraft, missing: Sequence[HazardLine] = ()) -> dict[str, str]:
    """What the form shows. missing: what the hour brings and the sheet lacks, as lines marked to be left out."""
    form = {name: getattr(draft, name) for name in EMERGENCY}
    form |= {name: figure_text(name, getattr(draft.hour, name)) for name in WEATHER}
    form |= {name: {True: YES, False: NO, None: ""}[getattr(draft.looked, name)] for name in LOOKED}
    for number, line in enumerate((*draft.lines, *missing), start=1):
        form |= {f"{name}_{number}": getattr(line, name) for name in ("key", "rests", "what", "done", "who")}
        form |= {f"tick_{number}": YES} if line.is_done else {}
        form |= {f"cut_{number}": YES} if number > len(draft.lines) else {}
    return form | {"count": str(len(draft.lines) + len(missing))}


def read_sheet_form(form: Mapping[str, str], workshop_id: int) -> SheetDraft:
    """The sheet a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems: dict[str, str] = {}
    hour = {name: _read(problems, name, form, read_figure) for name in WEATHER}
    looked = {name: _read(problems, name, form, _there) for name in LOOKED}
    lines = _lines(form, problems)
    if problems:
        raise InputProblems(problems)
    draft = SheetDraft(
        workshop_id=workshop_id,
        lines=tuple(line for _, line in lines),
        looked=Looked(**looked),  # type: ignore[arg-type]
        hour=TypedHour(**hour),  # type: ignore[arg-type]
        **{name: form.get(name, "") for name in EMERGENCY},  # type: ignore[arg-type]
    )
    try:
        return checked_draft(draft)
    except InputProblem as problem:
        word, _, number = problem.field.partition(" ")
        field = f"what_{lines[int(number) - 1][0]}" if word == "lines" and number else problem.field
        raise InputProblems({field: problem.message}) from problem


def line_count(form: Mapping[str, str]) -> int:
    text = form.get("count", "0")
    return min(int(text), MOST_LINES) if text.isascii() and text.isdecimal() and len(text) < 6 else 0


def _lines(form: Mapping[str, str], problems: dict[str, str]) -> list[tuple[int, HazardLine]]:
    """The lines that are not taken out, each with its number in the form; a spare one left empty is none."""
    found = []
    for number in range(1, line_count(form) + SPARE_LINES + 1):
        what, done, who = (form.get(f"{name}_{number}", "") for name in ("what", "done", "who"))
        if form.get(f"cut_{number}") or not (what.strip() or done.strip() or who.strip()):
            continue
        rests = form.get(f"rests_{number}", "here")
        if rests not in get_args(Rests):
            problems[f"what_{number}"] = "the form did not say why this line stands here. Load it again."
            continue
        line = HazardLine(
            key=form.get(f"key_{number}", "")[:40], what=what, done=done, who=who,
            is_done=bool(form.get(f"tick_{number}")), rests=rests,  # type: ignore[arg-type]
        )  # fmt: skip
        found.append((number, line))
    return found


def _read(problems: dict[str, str], name: str, form: Mapping[str, str], reader: Callable[[str, str], object]) -> object:
    with noted(problems, name):
        return reader(name, form.get(name, "").strip().lower())
    return None


def _there(name: str, text: str) -> bool | None:
    if text not in ("", YES, NO):
        raise InputProblem(name, f"“{text}” is neither yes nor no.")
    return None if not text else text == YES
