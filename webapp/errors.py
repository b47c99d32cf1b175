"""When something is wrong: what, where, and what to do, as a calm page or under .json as an object."""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask import Flask, Response, jsonify, make_response, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, MethodNotAllowed, SecurityError

from models.problems import InputProblem
from models.store.versions import Clash, Missing
from webapp.answering import wants_json


@dataclass(frozen=True, slots=True)
class Trouble:
    """One error page."""

    status: int
    title: str
    what: str
    do: str
    field: str = ""


TROUBLES = {
    trouble.status: trouble
    for trouble in (
        Trouble(
            400,
            "That request made no sense",
            "The address or the form is not one this program writes.",
            "Go back and try again from the page itself.",
        ),
        Trouble(
            401,
            "Sign in first",
            "This asks for the passphrase, and nobody is signed in here.",
            "Open /sign-in in a browser.",
        ),
        Trouble(
            403,
            "The form was too old",
            "It lacks the token that shows it came from this program. Nothing was changed.",
            "Go back, load the page again and send the form once more. Cookies from this address must be allowed.",
        ),
        Trouble(
            404,
            "There is nothing here",
            "No page has this address; what was kept here may have been deleted.",
            "Look for it in the lists that the links at the top lead to.",
        ),
        Trouble(
            405,
            "This address cannot be used that way",
            "It answers to a different kind of request.",
            "Use the buttons and links of the pages.",
        ),
        Trouble(
            409,
            "Somebody else changed this first",
            "What you saw is older than what is kept now. Nothing was changed.",
            "Look at it as it stands now, then try again.",
        ),
        Trouble(
            413,
            "That is too large",
            "It is more than this address takes. Nothing was saved.",
            "Send less text or a smaller file. Maps come in from the command line: kerbstand import.",
        ),
        Trouble(
            422,
            "Something typed cannot be used",
            "Nothing was saved.",
            "Go back and put it right.",
        ),
        Trouble(
            429,
            "Too many searches in a row",
            "Address search asks a shared public service, which wants to be asked seldom.",
            "Wait a minute, or paste the coordinates instead.",
        ),
        Trouble(
            500,
            "That is our mistake",
            "The program could not answer. Nothing you typed was half-saved.",
            "Try again. If it happens again, the terminal that runs Kerbstand says why.",
        ),
    )
}


def init_app(app: Flask) -> None:
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(CSRFError, lambda problem: show(TROUBLES[403]))
    app.register_error_handler(SecurityError, _stranger)
    app.register_error_handler(InputProblem, _input)
    app.register_error_handler(Missing, _missing)
    app.register_error_handler(Clash, _clash)


def show(trouble: Trouble) -> Response:
    """The trouble as page or JSON, with its status."""
    if wants_json():
        response = jsonify(error=trouble.title, what=trouble.what, do=trouble.do, field=trouble.field or None)
    else:
        response = make_response(render_template("error.html", trouble=trouble))
    response.status_code = trouble.status
    return response


def _http(problem: HTTPException) -> Response:
    status = problem.code or 500
    if status < 400 or problem.response is not None:
        return problem.get_response()  # a redirect raised by the router, or an answer that is made already
    known = TROUBLES.get(status) or TROUBLES[500 if status >= 500 else 400]
    what = _too_large() if status == 413 else known.what
    response = show(Trouble(status, known.title, what, known.do))
    if isinstance(problem, MethodNotAllowed):
        response.headers["Allow"] = ", ".join(problem.valid_methods or ())
    return response


def _too_large() -> str:
    most = (request.max_content_length or 0) / 1e6
    return f"A form may hold {most:.0f} MB here, and this one holds more. Nothing was saved."


def _input(problem: InputProblem) -> Response:
    known = TROUBLES[422]
    return show(Trouble(422, known.title, f"{problem.field}: {problem.message}", known.do, problem.field))


def _missing(problem: Missing) -> Response:
    return show(replace(TROUBLES[404], what=f"No {problem.what} has this address; it may have been deleted."))


def _clash(problem: Clash) -> Response:
    done = "deleted" if problem.deleted else "changed"
    what = f"Somebody else {done} this {problem.what} after you opened it. Nothing of yours was kept."
    return show(replace(TROUBLES[409], what=what))


def _stranger(problem: SecurityError) -> Response:
    """A Host not on the list gets no links, no cookie and no token."""
    do = "Open the address that the program printed when it started."
    trouble = Trouble(400, "Not under this name", "This program answers only to the names of this machine.", do)
    if problem.description != SecurityError.description:
        trouble = Trouble(400, "Not over HTTPS", "This program answers over HTTPS only.", problem.description or "")
    if request.path.endswith(".json"):
        return make_response(jsonify(error=trouble.title, what=trouble.what, do=trouble.do, field=None), 400)
    return make_response(render_template("stranger.html", trouble=trouble), 400)
