"""Planning an enquiry: a form filled in from a workshop, a what-if and what is recorded of the place."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.rules.enquiries import add_enquiry
from models.planning.rules.enquiry_form import read_enquiry_form, understood_enquiry
from models.planning.rules.enquiry_plan import About, enquiry_plan, plan_choices
from models.problems import InputProblems
from models.rules.enquiry import EnquiryDraft
from webapp.answering import now, store
from webapp.enquiries import fields, pages
from webapp.forms import number, today


@pages.get("/enquiries/new")
def new() -> Response:
    about = _about(request.args)
    if about.area_id is None and about.spot_id is None:
        choices = plan_choices(store(), now(), about.workshop_id)
        return make_response(render_template("enquiry_choices.html", page=choices))
    return _form(None, about)


@pages.post("/enquiries")
def add() -> Response:
    about = _about(request.form)
    before = EnquiryDraft(to_whom="", area_id=about.area_id, spot_id=about.spot_id, workshop_id=about.workshop_id)
    try:
        enquiry = add_enquiry(store(), read_enquiry_form(request.form, before, today()), now=now())
    except InputProblems as problems:
        return _form(request.form, about, problems.by_field)
    flash(f"The enquiry to {enquiry.to_whom} is planned. Its letter stands below.", "done")
    return redirect(url_for("enquiries.enquiry", enquiry_id=enquiry.id), 303)


def _about(said: Mapping[str, str]) -> About:
    area_id = number(said.get("area"))
    return About(area_id, number(said.get("spot")) if area_id is None else None, number(said.get("workshop")))


def _form(form: Mapping[str, str] | None, about: About, problems: Mapping[str, str] | None = None) -> Response:
    plan = enquiry_plan(store(), request.args, now(), about)
    shown = form if form is not None else plan.form
    page = render_template(
        "enquiry_new.html",
        page=plan,
        about=about,
        form=shown,
        problems=problems or {},
        understood=understood_enquiry(shown, today()),
        fields=fields,
    )
    return make_response(page, 422 if problems else 200)
