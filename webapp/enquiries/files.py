"""Files that came with an enquiry: taken in once they are checked, handed out as downloads that nothing runs."""

from __future__ import annotations

from io import BytesIO

from flask import Response, flash, redirect, request, send_file, url_for

from models.exchange.papers_file import checked_file
from models.planning.rules.enquiry_page import delete_file, get_file, keep_file
from models.problems import InputProblem
from webapp.answering import now, store
from webapp.enquiries import pages
from webapp.enquiries.showing import page_of
from webapp.security import lock_down


@pages.post("/enquiries/<int:enquiry_id>/files")
def add_file(enquiry_id: int) -> Response:
    upload = request.files.get("file")
    if upload is None or not upload.filename:
        return page_of(enquiry_id, file_problem="Choose a file first: a PDF or a picture.")
    try:
        file = keep_file(store(), enquiry_id, checked_file(upload.filename, upload.read()), now=now())
    except InputProblem as problem:
        return page_of(enquiry_id, file_problem=f"The file {problem.message}.")
    flash(f"{file.name} is kept.", "done")
    return _back(enquiry_id)


@pages.get("/enquiries/<int:enquiry_id>/files/<int:file_id>")
def download(enquiry_id: int, file_id: int) -> Response:
    file = get_file(store(), enquiry_id, file_id)
    lock_down()
    return send_file(BytesIO(file.data), file.kind, as_attachment=True, download_name=file.name, etag=False)


@pages.post("/enquiries/<int:enquiry_id>/files/<int:file_id>/deletion")
def remove_file(enquiry_id: int, file_id: int) -> Response:
    file = delete_file(store(), enquiry_id, file_id)
    flash(f"{file.name} is deleted.", "done")
    return _back(enquiry_id)


def _back(enquiry_id: int) -> Response:
    return redirect(url_for("enquiries.enquiry", enquiry_id=enquiry_id, _anchor="files"), 303)
