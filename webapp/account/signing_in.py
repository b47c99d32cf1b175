"""Signing in, signing out, and choosing a passphrase through a link of the terminal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, current_app, flash, make_response, redirect, render_template, request, session, url_for

from models.planning.account import signing_in as planning
from models.planning.account.passphrase import SHORTEST
from models.problems import InputProblems
from webapp import gate
from webapp.account import pages
from webapp.account.limits import seldom
from webapp.address import own_path
from webapp.answering import now, store


@pages.get("/sign-in")
@gate.public
def sign_in_form() -> Response:
    if gate.signed_in() or not current_app.config["SIGN_IN"]:
        return redirect(_onward(request.args.get("next", "")), 303)
    return _page("sign_in.html", onward=own_path(request.args.get("next", "")) or "")


@pages.post("/sign-in")
@seldom
@gate.public
def sign_in() -> Response:
    onward = request.form.get("next", "")
    token = planning.sign_in(store(), request.form.get("passphrase", ""), **who_asks())
    if token is None:
        return _page("sign_in.html", {"passphrase": planning.WRONG}, onward=own_path(onward) or "")
    end_mine()
    return gate.keep(redirect(_onward(onward), 303), token)


@pages.get("/sign-in/<link>")
@gate.public
def link(link: str) -> Response:
    """Looking at it uses nothing up: a program that fetches links in advance does no harm."""
    if not planning.link_is_good(store(), link, now()):
        return _over()
    return _page("choose_passphrase.html", link=link)


@pages.post("/sign-in/<link>")
@seldom
@gate.public
def choose(link: str) -> Response:
    try:
        token = planning.choose_passphrase(store(), link, *typed_twice(), **who_asks())
    except planning.LinkOver:
        return _over()
    except InputProblems as problems:
        return _page("choose_passphrase.html", problems.by_field, link=link)
    flash("The passphrase is kept, and this browser is signed in.", "done")
    return gate.keep(redirect(url_for("spots.listing"), 303), token)


@pages.post("/sign-out")
def sign_out() -> Response:
    end_mine()
    session.clear()
    return gate.forget(redirect(url_for("account.sign_in_form"), 303))


def end_mine() -> None:
    """A browser has one sign-in: a new one takes the place of the old."""
    if mine := gate.signed_in():
        planning.end(store(), mine.id)


def typed_twice() -> tuple[str, str]:
    return request.form.get("passphrase", ""), request.form.get("again", "")


def who_asks() -> dict[str, Any]:
    """What every sign-in is told besides the passphrase."""
    method = current_app.config["PASSPHRASE_METHOD"]
    return {"user_agent": request.headers.get("User-Agent", ""), "now": now(), "method": method}


def _onward(wanted: str) -> str:
    return own_path(wanted) or url_for("spots.listing")


def _page(template: str, problems: Mapping[str, str] | None = None, **shown: object) -> Response:
    """Nothing typed is shown again, and no browser keeps the page."""
    page = render_template(template, problems=problems or {}, shortest=SHORTEST, **shown)
    return _unkept(make_response(page, 422 if problems else 200))


def _over() -> Response:
    return _unkept(make_response(render_template("link_over.html"), 410))


def _unkept(response: Response) -> Response:
    response.headers["Cache-Control"] = "no-store"
    return response
