"""The browsers that are signed in, and what may be done about them."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, current_app, flash, redirect, request, url_for

from models.planning.account import signing_in as planning
from models.planning.account.page import account_page
from models.planning.account.passphrase import SHORTEST
from models.problems import InputProblems
from webapp import gate
from webapp.account import pages
from webapp.account.limits import seldom
from webapp.account.signing_in import typed_twice, who_asks
from webapp.answering import answer, now, store


@pages.get("/account")
@pages.get("/account.json", endpoint="show_json")
def show() -> Response:
    return _page()


@pages.post("/account/passphrase")
@seldom
def change_passphrase() -> Response:
    current = request.form.get("current", "")
    try:
        token = planning.change_passphrase(store(), current, *typed_twice(), **who_asks())
    except InputProblems as problems:
        return _page(problems.by_field)
    flash("The new passphrase is kept. Every other browser is signed out.", "done")
    return gate.keep(redirect(url_for("account.show"), 303), token)


@pages.post("/account/sign-ins/<int:sign_in_id>/end")
def end(sign_in_id: int) -> Response:
    mine = gate.signed_in()
    ended = planning.end(store(), sign_in_id)
    if mine and mine.id == sign_in_id:
        return gate.forget(redirect(url_for("account.sign_in_form"), 303))
    flash("That browser is signed out." if ended else "That browser was signed out already.", "done")
    return redirect(url_for("account.show"), 303)


@pages.post("/account/sign-ins/end-others")
def end_others() -> Response:
    mine = gate.signed_in()
    ended = planning.end_others(store(), mine.id if mine else None)
    flash(f"{ended} {'browser is' if ended == 1 else 'browsers are'} signed out.", "done")
    return redirect(url_for("account.show"), 303)


def _page(problems: Mapping[str, str] | None = None) -> Response:
    shown = account_page(store(), gate.signed_in(), current_app.config["SIGN_IN"], now())
    values = {"problems": problems or {}, "shortest": SHORTEST}
    return answer("account.html", shown, status=422 if problems else 200, **values)
