"""Changing a setup, a light of it, its powers; deleting it: every change names the version it was made from."""

from __future__ import annotations

from flask import Response, flash, redirect, request, url_for

from models.planning.setups.form import read_setup_form, setup_form_of
from models.planning.setups.keeping import (
    change_setup,
    delete_setup,
    get_setup,
    keep_try,
    move_light,
    moved_words,
    place_light,
    restore_setup,
    take_powers,
)
from models.planning.setups.kit import whole_kit
from models.planning.setups.lit import spot_asked
from models.planning.setups.page import setup_page
from models.planning.setups.tries import try_of
from models.problems import InputProblem, InputProblems
from models.store.versions import Clash
from webapp.address import asked_moment
from webapp.answering import now, store
from webapp.forms import differing, offer_undo, version
from webapp.forms import number as address_number
from webapp.setups import pages
from webapp.setups.adding import form_page
from webapp.setups.addresses import with_words
from webapp.setups.clashing import back_on_clash


@pages.get("/setups/<int:setup_id>/edit")
def edit(setup_id: int) -> Response:
    setup = get_setup(store(), setup_id)
    return form_page("setup_edit.html", setup_form_of(setup), setup)


@pages.post("/setups/<int:setup_id>")
def change(setup_id: int) -> Response:
    made_from = version()
    try:
        setup = change_setup(store(), setup_id, made_from, read_setup_form(request.form, whole_kit(store())))
    except InputProblems as problems:
        kept = get_setup(store(), setup_id)
        said = {"problems": problems.by_field, "made_from": made_from}
        return form_page("setup_edit.html", request.form, kept, **said)
    except Clash as clash:
        now_kept = setup_form_of(clash.current)
        said = {"other": differing(now_kept, now_kept), "deleted": clash.deleted}
        return form_page("setup_edit.html", request.form, clash.current, **said)
    flash(f"{setup.title} is kept as you changed it.", "done")
    return redirect(with_words("setups.setup", setup_id=setup_id), 303)


@pages.post("/setups/<int:setup_id>/lights/<int:number>/moves")
@back_on_clash
def move(setup_id: int, number: int) -> Response:
    """The next page offers to put the light back exactly where it was."""
    before, made_from = get_setup(store(), setup_id), version()
    after = move_light(store(), setup_id, made_from, number, request.form.get("move", ""))
    was, now_there = before.lights[number - 1], after.lights[number - 1]
    if was != now_there:
        place = {"axis_deg": was.axis_deg, "distance_m": was.distance_m, "height_m": was.height_m}
        undo = with_words("setups.put_back", setup_id=setup_id, number=number, version=after.version, **place)
        offer_undo(f"Light {number}, the {was.role}, is moved: {moved_words(was, now_there)}.", undo)
    return redirect(with_words("setups.setup", setup_id=setup_id, _anchor="plan"), 303)


@pages.post("/setups/<int:setup_id>/lights/<int:number>/place")
@back_on_clash
def put_back(setup_id: int, number: int) -> Response:
    """A light as it was before a move: its place is in the address, as the notice that offers it wrote it."""
    made_from = address_number(request.args.get("version")) or 0
    place = {name: _metres_or_degrees(name) for name in ("axis_deg", "distance_m", "height_m")}
    place_light(store(), setup_id, made_from, number, **place)
    flash("The light is back where it was.", "done")
    return redirect(with_words("setups.setup", setup_id=setup_id, _anchor="plan"), 303)


@pages.post("/setups/<int:setup_id>/powers")
@back_on_clash
def powers(setup_id: int) -> Response:
    """What was found for the light in the address, in place of what is kept."""
    made_from, kept, args = version(), get_setup(store(), setup_id), request.args
    spot = spot_asked(store(), args)
    moment = asked_moment(spot.zone, spot.id) if spot else None
    page = setup_page(store(), kept, args, spot, moment)
    if page.solved is None:
        raise InputProblem("kit", page.answer.text)
    take_powers(store(), setup_id, made_from, page.solved)
    flash("These settings, powers and distances are kept with the setup now.", "done")
    return redirect(with_words("setups.setup", setup_id=setup_id), 303)


@pages.post("/setups/<int:setup_id>/tries")
@back_on_clash
def keep(setup_id: int) -> Response:
    """The spot and hour of the address, kept with the setup."""
    spot = spot_asked(store(), request.args)
    if spot is None:
        raise InputProblem("spot", "choose a spot first")
    keep_try(store(), setup_id, version(), try_of(spot, asked_moment(spot.zone, spot.id), request.args))
    flash("This spot and hour are kept with the setup.", "done")
    return redirect(with_words("setups.setup", setup_id=setup_id), 303)


@pages.post("/setups/<int:setup_id>/deletion")
@back_on_clash
def delete(setup_id: int) -> Response:
    setup = delete_setup(store(), setup_id, version(), now=now())
    offer_undo(f"{setup.title} is deleted.", url_for("setups.restore", setup_id=setup_id))
    return redirect(url_for("setups.listing"), 303)


@pages.post("/setups/<int:setup_id>/restoration")
def restore(setup_id: int) -> Response:
    setup = restore_setup(store(), setup_id)
    flash(f"{setup.title} is back.", "done")
    return redirect(with_words("setups.setup", setup_id=setup_id), 303)


def _metres_or_degrees(name: str) -> float:
    try:
        return float(request.args.get(name, ""))
    except ValueError:
        raise InputProblem(name, "the address does not say where the light was") from None
