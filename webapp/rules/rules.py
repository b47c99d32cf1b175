"""Rules of an area or a spot: the form that records one, changing and deleting it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules import areas as planning
from models.planning.rules.rule_form import new_rule_form, read_rule_form, rule_form_of, understood_rule
from models.problems import InputProblem, InputProblems
from models.rules.activities import ACTIVITIES
from models.rules.rule import Rule, RuleDraft
from models.store.versions import Clash, Missing
from webapp.answering import now, store
from webapp.forms import differing, form_answer, number, offer_undo, today, version
from webapp.rules import fields, pages

Place = Mapping[str, int | None]
"""area_id or spot_id, the other None."""
NOWHERE: Place = {"area_id": None, "spot_id": None}


@pages.get("/rules/new")
def new_rule() -> Response:
    place = _place(request.args)
    if place == NOWHERE:
        flash("Choose the area that the rule belongs to; a spot's own rules begin on its page.", "done")
        return redirect(url_for("rules.areas"), 303)
    if not planning.place_of(store(), **place)[1]:
        raise Missing(str(place))
    return _form(new_rule_form(today(), request.args.get("activity", "")), place)


@pages.post("/rules")
def add_rule() -> Response:
    place = _place(request.form)
    try:
        rule = planning.add_rule(store(), read_rule_form(request.form, **place, today=today()))
    except InputProblems as problems:
        return _form(request.form, place, problems=problems.by_field)
    except InputProblem:
        return _form(request.form, place, problems={"place": "the place was deleted while you were typing."})
    flash(f"What was found about {_of(rule)} is kept.", "done")
    return redirect(_back(rule), 303)


@pages.get("/rules/<int:rule_id>/edit")
def edit_rule(rule_id: int) -> Response:
    rule = planning.get_rule(store(), rule_id)
    return _form(rule_form_of(rule), _hangs_on(rule), rule)


@pages.post("/rules/<int:rule_id>")
def change_rule(rule_id: int) -> Response:
    rule = planning.find_rule(store(), rule_id)
    place = _hangs_on(rule)
    try:
        draft = read_rule_form(request.form, **place, today=today())
        changed = planning.change_rule(store(), rule_id, version(), draft)
    except InputProblems as problems:
        return _form(request.form, place, rule, problems=problems.by_field, made_from=version())
    except Clash as clash:
        other = differing(rule_form_of(clash.current), fields.RULE_FIELDS)
        return _form(request.form, place, clash.current, other=other, deleted=clash.deleted)
    flash(f"What was found about {_of(changed)} is kept as you changed it.", "done")
    return redirect(_back(changed), 303)


@pages.post("/rules/<int:rule_id>/deletion")
def delete_rule(rule_id: int) -> Response:
    deleted = planning.delete_rule(store(), rule_id, version(), now=now())
    undo = url_for("rules.restore_rule", rule_id=rule_id)
    offer_undo(f"The rule about {_of(deleted)} is deleted.", undo)
    return redirect(_back(deleted), 303)


@pages.post("/rules/<int:rule_id>/restoration")
def restore_rule(rule_id: int) -> Response:
    restored = planning.restore_rule(store(), rule_id)
    flash(f"The rule about {_of(restored)} is back.", "done")
    return redirect(_back(restored), 303)


def _place(said: Mapping[str, str]) -> Place:
    area_id, spot_id = number(said.get("area")), number(said.get("spot"))
    return {"area_id": area_id, "spot_id": None if area_id is not None else spot_id}


def _hangs_on(rule: Rule) -> Place:
    return {"area_id": rule.area_id, "spot_id": rule.spot_id}


def _of(rule: RuleDraft) -> str:
    return ACTIVITIES[rule.activity].words


def _back(rule: RuleDraft) -> str:
    if rule.area_id is not None:
        return url_for("rules.area", area_id=rule.area_id)
    return url_for("rules.what_if", spot_id=rule.spot_id)


def _form(
    form: Mapping[str, str], place: Place, rule: Rule | None = None, *, deleted: bool = False, **said: Any
) -> Response:
    name, there = planning.place_of(store(), **place)
    shown = {
        "place": place,
        "place_name": name,
        "place_there": there,
        "rule": rule,
        "understood": understood_rule(form, today()),
        "fields": fields,
    }
    return form_answer("rules_rule_form.html", form, rule, deleted=deleted or not there, **said, **shown)
