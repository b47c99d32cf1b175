"""The hazards sheet as it is read, edited and printed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.street.hazards import Basis, basis_of, with_ambulance
from models.planning.street.hazards_form import sheet_form_of
from models.rules.workshop import Workshop
from models.store import hazards as kept
from models.store.engine import Store
from models.store.hazards import KeptSheet, Looked, SheetDraft, TypedHour
from models.store.spots import Spot
from models.words.hazards import EMERGENCY_WORDS, SHEET_NOTE
from models.words.said import Said, said
from models.words.street import weather_words
from models.workshop.hazards import HazardLine, HazardSheet

NO_WEATHER = "No weather typed for the hour: look at the forecast the evening before and again on the day."
CHANGED = (
    "The weather kept for the spot has changed since this sheet was kept: keep it again, and the lines you left alone "
    "follow."
)
NOTED_SINCE = (
    "What is noted at the spot is no longer what this sheet says of it. Noted there now: “{}” Look whether the line "
    "still holds, then keep the sheet again."
)
NOTED_NO_MORE = (
    "Nothing is noted at the spot any more. Look whether the line about it still holds, then keep the sheet."
)


@dataclass(frozen=True, slots=True)
class HazardsPage:
    """version: 0 where nothing is kept yet and the lines are as prefilled. left_out: what the hour brings besides.

    light: parameters of the spot's page for the hour it starts, with the cloud where it was typed. changed: what to do
    where the weather kept for the spot is no longer that of the lines. noted: the same where an edited line tells what
    was noted at the spot before.
    """

    workshop: Workshop
    spot: Spot
    when: str
    answer: Said
    version: int
    sheet: HazardSheet
    left_out: tuple[HazardLine, ...]
    emergency: tuple[str, ...]
    weather: str
    changed: str
    noted: str
    light: Mapping[str, str]
    form: Mapping[str, str]
    note: str


def hazards_page(store: Store, workshop_id: int, now: datetime) -> HazardsPage:
    """Raises Missing."""
    with store.reading() as s:
        basis, current = basis_of(s, workshop_id), kept.sheet_of(s, workshop_id)
        typed = current.hour if current else TypedHour()
        usual = basis.lines(current.looked if current else Looked(), typed if typed.given else basis.filled)
        bare = current or SheetDraft(workshop_id=workshop_id, lines=usual, filled=basis.filled)
        draft = with_ambulance(s, bare)
    has = {line.key for line in draft.lines}
    left_out = tuple(line for line in usual if line.key not in has)
    hour = basis.weather_for(typed)
    stale = not typed.given and draft.filled_from != basis.filled
    return HazardsPage(
        workshop=basis.workshop,
        spot=basis.spot,
        when=span_words(footprint_of(basis.workshop, basis.spot.zone), basis.spot.zone),
        answer=_answer(draft.sheet, left_out, kept_yet=current is not None),
        version=current.version if current else 0,
        sheet=draft.sheet,
        left_out=left_out,
        emergency=tuple(EMERGENCY_WORDS[name] for name in draft.sheet.missing),
        weather=weather_words(hour, now) if hour else NO_WEATHER,
        changed=CHANGED if stale else "",
        noted=_noted(current, basis.spot.hazards.strip()),
        light=_light(basis, draft),
        form=sheet_form_of(draft, left_out),
        note=SHEET_NOTE,
    )


def _noted(sheet: KeptSheet | None, now: str) -> str:
    """A line left alone says what is noted now; one that was edited holds until somebody looks at it."""
    if sheet is None or sheet.noted == now:
        return ""
    if not any(line.key == "noted" and line.what != now for line in sheet.lines):
        return ""
    return NOTED_SINCE.format(now) if now else NOTED_NO_MORE


def _light(basis: Basis, draft: SheetDraft) -> dict[str, str]:
    local, oktas = to_local(basis.workshop.starts, basis.spot.zone), draft.hour.oktas
    sky = {} if oktas is None else {"sky": str(round(oktas))}
    return {"on": f"{local:%Y-%m-%d}", "at": f"{local:%H:%M}"} | sky


def _answer(sheet: HazardSheet, left_out: Sequence[HazardLine], *, kept_yet: bool) -> Said:
    total, still = len(sheet.lines), len(sheet.open)
    first = said(
        "", f"{still} of {total} hazards not seen to yet", "." if kept_yet else "; nothing of this sheet is kept yet."
    )
    missing = len(sheet.missing)
    call = said(f" Whom to call: {missing} of 3 things not filled in.") if missing else said("")
    out = (
        said(f" {len(left_out)} that this hour brings {'is' if len(left_out) == 1 else 'are'} left out.")
        if left_out
        else said("")
    )
    return first + call + out
