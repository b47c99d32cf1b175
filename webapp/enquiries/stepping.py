"""The steps of an enquiry: asked, granted, refused, withdrawn, lapsed, planned anew; the last one can be taken back."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.rules import enquiries as planning
from models.planning.rules.enquiry_form import granted_form_of, no_step, read_move, understood_enquiry
from models.problems import InputProblems
from models.rules.enquiry import NEXT, STATES, Enquiry
from models.store.versions import Clash
from webapp.answering import now, store
from webapp.enquiries import fields, pages
from webapp.forms import number, offer_undo, today, version


@pages.get("/enquiries/<int:enquiry_id>/steps/new")
def new_step(enquiry_id: int) -> Response:
    enquiry = planning.get_enquiry(store(), enquiry_id)
    state = request.args.get("state", "")
    if problem := no_step(enquiry, state, today()):
        return _form(enquiry, state, {}, {"state": problem})
    return _form(enquiry, state, granted_form_of(enquiry, today()) | {"sent_on": today().isoformat()})


@pages.post("/enquiries/<int:enquiry_id>/steps")
def step(enquiry_id: int) -> Response:
    made_from, enquiry = version(), planning.find_enquiry(store(), enquiry_id)
    try:
        draft, note = read_move(request.form, enquiry, today())
        moved = planning.move_enquiry(store(), enquiry_id, made_from, draft, note=note, now=now())
    except InputProblems as problems:
        return _form(enquiry, request.form.get("state", ""), request.form, problems.by_field, made_from=made_from)
    except Clash as clash:
        return _clash(clash)
    undo = url_for("enquiries.take_back", enquiry_id=enquiry_id, version=moved.version)
    offer_undo(f"The enquiry to {moved.to_whom} is now {STATES[moved.state]}.", undo)
    return _back(enquiry_id)


@pages.post("/enquiries/<int:enquiry_id>/taking-back")
def take_back(enquiry_id: int) -> Response:
    made_from = number(request.args.get("version")) or version()
    taken = planning.take_back(store(), enquiry_id, made_from, now=now())
    flash(f"That step is taken back: the enquiry to {taken.to_whom} is {STATES[taken.state]} again.", "done")
    return _back(enquiry_id)


def _clash(clash: Clash) -> Response:
    """What was typed stays; sent once more it is a step from where the enquiry stands now, if that leads there."""
    done = "deleted this enquiry while you were typing"
    if not clash.deleted:
        done = f"changed this enquiry while you were typing; it is {STATES[clash.current.state]} now"
    problems = {"state": f"somebody {done}."}
    return _form(
        clash.current, request.form.get("state", ""), request.form, problems, deleted=clash.deleted, status=409
    )


def _form(
    enquiry: Enquiry,
    state: str,
    form: Mapping[str, str],
    problems: Mapping[str, str] | None = None,
    *,
    made_from: int | None = None,
    deleted: bool = False,
    status: int = 422,
) -> Response:
    """status: where there is a problem. Where the step does not lead on, what was typed is shown and cannot be sent."""
    page = render_template(
        "enquiry_step.html",
        enquiry=enquiry,
        step=fields.STEPS.get(state),
        leads=state in NEXT[enquiry.state],
        form=form,
        problems=problems or {},
        understood=understood_enquiry(form, today()),
        version=made_from or enquiry.version,
        deleted=deleted,
        fields=fields,
    )
    return make_response(page, status if problems else 200)


def _back(enquiry_id: int) -> Response:
    return redirect(url_for("enquiries.enquiry", enquiry_id=enquiry_id), 303)
