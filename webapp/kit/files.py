"""Kit as files: each kind as CSV, all of it as TOML, and CSV in with a look at what was understood first."""

from __future__ import annotations

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.gear import files
from models.planning.gear.fields import BY_NAME, KINDS
from models.planning.gear.keeping import kind_called
from models.problems import InputProblem
from webapp.answering import store
from webapp.kit import pages


@pages.get("/kit/<kind_name>.csv")
def csv(kind_name: str) -> Response:
    kind = kind_called(kind_name)
    return _download(files.csv_of(store(), kind), f"{kind.name}.csv", "text/csv")


@pages.get("/kit.toml")
def toml() -> Response:
    return _download(files.toml_of(store()), "kit.toml", "application/toml")


@pages.get("/kit/import")
def import_form() -> Response:
    return _page()


@pages.post("/kit/import")
def preview() -> Response:
    """What the file holds; nothing is kept. The page carries the file's text on to the next press."""
    data = _uploaded()
    if not data.strip():
        return _page(problem="Choose a CSV file first.", status=422)
    found = files.preview_csv(store(), kind_called(request.form.get("kind", "")), data)
    return _page(found, data, status=422 if found.problem else 200)


@pages.post("/kit/bringing-in")
def bring_in() -> Response:
    """The same file again, this time to keep; it is read anew, so nothing slips in unseen."""
    kind, data = kind_called(request.form.get("kind", "")), request.form.get("text", "").encode()
    try:
        words = files.import_csv(store(), kind, data, request.form.get("mark", ""))
    except InputProblem as problem:
        return _page(problem=f"The file {problem.message}", status=422)
    except files.KitMoved:
        return _page(files.preview_csv(store(), kind, data), data, moved=True, status=409)
    flash(words, "done")
    return redirect(url_for("kit.listing", _anchor=kind.name), 303)


def _uploaded() -> bytes:
    upload = request.files.get("file")
    if upload is None:
        return b""
    with upload.stream:
        return upload.read()


def _download(text: str, name: str, mimetype: str) -> Response:
    response = Response(text, mimetype=mimetype)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def _page(
    found: files.KitPreview | None = None, data: bytes = b"", problem: str = "", moved: bool = False, status: int = 200
) -> Response:
    name = found.kind if found else request.values.get("kind", "")
    kind = BY_NAME.get(name, KINDS[0])
    text = "" if found is None or found.problem else data.decode("utf-8-sig")
    columns = [(each.many, ", ".join(files.columns_of(each))) for each in KINDS]
    page = render_template(
        "kit_import.html", found=found, text=text, problem=problem, moved=moved, kind=kind, kinds=KINDS, columns=columns
    )
    return make_response(page, status)
