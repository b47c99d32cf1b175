"""The texts of briefings, for one workshop and for all of them: each on one page that is its form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request

from models.planning.briefing.texts import TextField, TextsPage, change_texts, texts_page
from models.problems import InputProblems
from models.store.versions import Clash
from models.words.briefing_page import READER_WORDS
from models.words.said import listed
from webapp.address import address
from webapp.answering import answer, store, wants_json
from webapp.briefing import pages
from webapp.forms import differing, form_answer, version
from webapp.spots.fields import Field


@pages.get("/workshops/<int:workshop_id>/briefing/texts")
@pages.get("/workshops/<int:workshop_id>/briefing/texts.json", endpoint="texts_json")
def texts(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.get("/briefing-texts")
@pages.get("/briefing-texts.json", endpoint="usual_texts_json")
def usual_texts() -> Response:
    return _page(None)


@pages.post("/workshops/<int:workshop_id>/briefing/texts")
def keep_texts(workshop_id: int) -> Response:
    return _kept(workshop_id)


@pages.post("/briefing-texts")
def keep_usual_texts() -> Response:
    return _kept(None)


def _kept(workshop_id: int | None) -> Response:
    made_from = version()
    try:
        change_texts(store(), workshop_id, made_from, request.form)
    except InputProblems as problems:
        return _page(workshop_id, request.form, problems=problems.by_field, made_from=made_from)
    except Clash:
        kept = texts_page(store(), workshop_id).form
        return _page(workshop_id, request.form, other=differing(kept, kept))
    if workshop_id is None:
        flash("The texts are kept for every workshop.", "done")
        return redirect(address("briefings.usual_texts"), 303)
    flash("The texts are kept. Readers get them with the next version that you issue.", "done")
    return redirect(address("briefings.page", workshop_id=workshop_id), 303)


def _page(workshop_id: int | None, typed: Mapping[str, str] | None = None, **said: Any) -> Response:
    page = texts_page(store(), workshop_id)
    if wants_json():
        return answer("briefing_texts.html", page)
    form = page.form if typed is None else page.form | typed.to_dict()  # type: ignore[attr-defined]
    shown = {"page": page, "typed": typed or {}, "fields": [(each, _field(each, page)) for each in page.fields]}
    return form_answer("briefing_texts.html", form, page, **said, **shown)


def _field(each: TextField, page: TextsPage) -> Field:
    """Its hint: who reads it, and the usual words where they are other than what holds."""
    readers = listed([READER_WORDS[reader] for reader in each.readers])
    hints = [each.hint, f"For {readers}." if readers else "", "One a line." if each.kind == "list" else ""]
    if each.changed:
        hints.append(f"Usual: {each.usual.replace(chr(10), '; ') or 'nothing'}")
    kind = "wide" if each.kind == "line" else "text"
    return Field(each.name, each.title, kind, hint=" ".join(filter(None, hints)))
