"""Adding, changing and deleting releases: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.workshops import people as planning
from models.planning.workshops.erasing import STAY, erase_release
from models.planning.workshops.people_form import (
    new_release_form,
    read_release_form,
    release_form_of,
    understood_release,
)
from models.problems import InputProblems
from models.store.versions import Clash
from models.workshop.person import Person, Release
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, today, version
from webapp.people import pages
from webapp.people.fields import RELEASE_FIELDS, RELEASE_NAMES


@pages.get("/workshops/<int:workshop_id>/people/<int:person_id>/releases/new")
def new_release(workshop_id: int, person_id: int) -> Response:
    person = planning.get_person(store(), workshop_id, person_id)
    return _form(new_release_form(person, today()), person)


@pages.post("/workshops/<int:workshop_id>/people/<int:person_id>/releases")
def add_release(workshop_id: int, person_id: int) -> Response:
    person = planning.get_person(store(), workshop_id, person_id)
    try:
        draft = read_release_form(request.form, workshop_id, person_id, today())
    except InputProblems as problems:
        return _form(request.form, person, problems=problems.by_field)
    release = planning.add_release(store(), draft)
    flash(f"The release for {release.for_whom} is noted.", "done")
    return redirect(url_for("people.listing", workshop_id=workshop_id), 303)


@pages.get("/releases/<int:release_id>/edit")
def edit_release(release_id: int) -> Response:
    release = planning.get_release(store(), release_id)
    return _form(release_form_of(release), None, release)


@pages.post("/releases/<int:release_id>")
def change_release(release_id: int) -> Response:
    made_from, before = version(), planning.get_release(store(), release_id)
    try:
        draft = read_release_form(request.form, before.workshop_id, before.person_id, today())
        changed = planning.change_release(store(), release_id, made_from, draft)
    except InputProblems as problems:
        return _form(request.form, None, before, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(release_form_of(clash.current), RELEASE_NAMES)
        return _form(request.form, None, clash.current, other=other, deleted=clash.deleted)
    flash(f"The release for {changed.for_whom} is kept as you changed it.", "done")
    return redirect(url_for("people.all_releases"), 303)


@pages.post("/releases/<int:release_id>/deletion")
def delete_release(release_id: int) -> Response:
    deleted = planning.delete_release(store(), release_id, version(), now=now())
    offer_undo(
        f"The release for {deleted.for_whom} is deleted.", url_for("people.restore_release", release_id=release_id)
    )
    return redirect(url_for("people.all_releases"), 303)


@pages.post("/releases/<int:release_id>/restoration")
def restore_release(release_id: int) -> Response:
    restored = planning.restore_release(store(), release_id)
    flash(f"The release for {restored.for_whom} is back.", "done")
    return redirect(url_for("people.all_releases"), 303)


@pages.post("/releases/<int:release_id>/erasure")
def erase_one_release(release_id: int) -> Response:
    flash(erase_release(store(), release_id, now()).words, "done")
    return redirect(url_for("people.all_releases"), 303)


def _form(
    form: Mapping[str, str], person: Person | None = None, release: Release | None = None, **said: Any
) -> Response:
    shown = {
        "person": person,
        "release": release,
        "stay": STAY,
        "understood": understood_release(form, today()),
        "fields": RELEASE_FIELDS,
    }
    return form_answer("release_form.html", form, release, **said, **shown)
