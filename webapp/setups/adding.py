"""Adding a setup: from the usual one, or as a copy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request

from models.planning.setups.form import new_setup_form, read_setup_form, understood
from models.planning.setups.keeping import add_setup, copy_setup
from models.planning.setups.kit import whole_kit
from models.problems import InputProblems
from models.store.setups import KeptSetup
from webapp.answering import store
from webapp.forms import form_answer
from webapp.setups import pages
from webapp.setups.addresses import with_words
from webapp.setups.fields import groups_of_fields


@pages.get("/setups/new")
def new() -> Response:
    return form_page("setup_new.html", new_setup_form(whole_kit(store())))


@pages.post("/setups")
def add() -> Response:
    try:
        setup = add_setup(store(), read_setup_form(request.form, whole_kit(store())))
    except InputProblems as problems:
        return form_page("setup_new.html", request.form, problems=problems.by_field)
    flash(f"{setup.title} is kept.", "done")
    return redirect(with_words("setups.setup", setup_id=setup.id), 303)


@pages.post("/setups/<int:setup_id>/copies")
def copy(setup_id: int) -> Response:
    setup = copy_setup(store(), setup_id)
    flash(f"{setup.title} is kept; change it as you like.", "done")
    return redirect(with_words("setups.edit", setup_id=setup.id), 303)


def form_page(template: str, form: Mapping[str, str], kept: KeptSetup | None = None, **said: Any) -> Response:
    shown = {"setup": kept, "understood": understood(form), "groups": groups_of_fields(whole_kit(store()).owned)}
    return form_answer(template, form, kept, **said, **shown)
