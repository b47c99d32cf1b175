"""The list of enquiries, and one with its letter, its history and its files."""

from __future__ import annotations

from flask import Response, request

from models.planning.rules.enquiries import enquiries_page
from models.planning.rules.enquiry_page import enquiry_page
from webapp.answering import answer, now, store
from webapp.enquiries import pages
from webapp.enquiries.fields import STEPS
from webapp.forms import page_number, today


@pages.get("/enquiries")
@pages.get("/enquiries.json", endpoint="listing_json")
def listing() -> Response:
    page = enquiries_page(store(), today(), state=request.args.get("state", ""), page=page_number())
    return answer("enquiries.html", page)


@pages.get("/enquiries/<int:enquiry_id>")
@pages.get("/enquiries/<int:enquiry_id>.json", endpoint="enquiry_json")
def enquiry(enquiry_id: int) -> Response:
    return page_of(enquiry_id)


def page_of(enquiry_id: int, file_problem: str = "") -> Response:
    """The page of an enquiry; file_problem: what is wrong with a file that was sent to it."""
    page = enquiry_page(store(), enquiry_id, now())
    return answer("enquiry.html", page, status=422 if file_problem else 200, file_problem=file_problem, steps=STEPS)
