"""Files of an enquiry: a PDF or a picture is kept and handed out locked down, all else is refused by what is wrong."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image
from werkzeug.datastructures import FileStorage
from werkzeug.test import stream_encode_multipart

from models.store import rules as kept
from tests.webapp.conftest import HOSTILE
from tests.webapp.enquiries.conftest import ENQUIRY, keep
from tests.webapp.rules.test_findings import seen
from webapp.config import FORM_BYTES, UPLOAD_BYTES

PDF = b"%PDF-1.4\n1 0 obj<<>>endobj\nxref\n0 1\ntrailer<<>>\nstartxref\n9\n%%EOF\n"
FILES = "/enquiries/1/files"


def picture(size=(40, 30), **save) -> bytes:
    into = BytesIO()
    Image.new("RGB", size, "grey").save(into, "JPEG", **save)
    return into.getvalue()


def send(client, name, data, address=FILES):
    form = {"csrf_token": client.token(), "file": FileStorage(BytesIO(data), name)}
    body, length, boundary = stream_encode_multipart(form, use_tempfile=False)
    kind = f'multipart/form-data; boundary="{boundary}"'
    return client.post(address, input_stream=body, content_length=length, content_type=kind)


def of(store, number=1):
    with store.reading() as s:
        return kept.files_of(s, number)


def test_a_pdf_is_kept_and_comes_back_as_a_download_that_nothing_runs(client, planned, streets):
    sent = send(client, "Permit H 17.pdf", PDF)
    assert (sent.status_code, sent.headers["Location"]) == (303, "/enquiries/1#files")
    assert "Permit H 17.pdf" in client.get("/enquiries/1").text
    file = client.get(f"{FILES}/1")
    assert file.data == PDF
    assert file.headers["Content-Type"] == "application/pdf"
    assert file.headers["Content-Disposition"].startswith("attachment;")
    assert file.headers["X-Content-Type-Options"] == "nosniff"
    policy = file.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "sandbox" in policy
    assert "script-src" not in policy
    assert file.headers["Cache-Control"] == "no-store"


def test_a_picture_is_kept_without_what_the_camera_noted(client, planned):
    exif = Image.Exif()
    exif[0x010F] = "A camera"
    assert send(client, "permit.jpg", picture(exif=exif)).status_code == 303
    kept_picture = Image.open(BytesIO(client.get(f"{FILES}/1").data))
    assert kept_picture.size == (40, 30)
    assert not kept_picture.getexif()


def test_a_file_larger_than_a_form_is_taken_here_and_nowhere_else(client, planned, streets):
    data = PDF[:9] + b"%" + b"x" * (FORM_BYTES + 500_000) + b"\n" + PDF[9:]
    assert send(client, "scan.pdf", data).status_code == 303
    assert of(streets)[0].size_bytes == len(data)
    refused = send(client, "scan.pdf", data, "/papers")
    assert refused.status_code == 413
    assert "A form may hold 2 MB here" in refused.text


def test_one_that_is_too_large_is_refused(client, planned, streets):
    refused = send(client, "scan.pdf", b"%PDF-1.4" + b"x" * 5_000_000)
    assert refused.status_code == 422
    assert "at most 5 MB" in refused.text
    refused = send(client, "scan.pdf", b"x" * (UPLOAD_BYTES + 1))
    assert refused.status_code == 413
    assert "A form may hold 5 MB here" in refused.text
    assert of(streets) == ()


@pytest.mark.parametrize(
    ("name", "data", "message"),
    [
        ("permit.pdf", b"<html><script>alert(1)</script>", "neither a PDF nor"),
        ("permit.pdf", b"%PDF-1.4\n", "without its end"),
        ("permit.html", PDF, "named .html but holds a PDF"),
        ("permit.svg", b"<svg onload='alert(1)'/>", "neither a PDF nor"),
        ("permit.jpg", picture()[:200], "cannot be read"),
        ("empty.pdf", b"", "is empty"),
        ("", PDF, "Choose a file first"),
    ],
)
def test_what_cannot_be_kept_is_refused_by_what_is_wrong(client, planned, streets, name, data, message):
    refused = send(client, name, data)
    assert refused.status_code == 422
    assert message in seen(refused.text)
    assert 'id="file-wrong"' in refused.text
    assert of(streets) == ()


def test_a_hostile_name_becomes_a_plain_one(client, planned, streets):
    assert send(client, f"../../{HOSTILE}.pdf", PDF).status_code == 303
    name = of(streets)[0].name
    assert not set(name) & set('<>"/\\;')
    page = client.get("/enquiries/1").text
    assert "<img src=x" not in page
    assert client.get(f"{FILES}/1").status_code == 200


def test_a_form_without_a_file_keeps_nothing(client, planned):
    assert client.send(FILES, {"file": "text"}).status_code == 422


def test_a_file_belongs_to_its_enquiry(client, planned, streets):
    keep(streets, ENQUIRY)
    send(client, "permit.pdf", PDF)
    assert client.get("/enquiries/2/files/1").status_code == 404
    assert client.send("/enquiries/2/files/1/deletion", {}).status_code == 404
    assert client.get(f"{FILES}/1").status_code == 200


def test_a_file_is_deleted_for_good(client, planned, streets):
    send(client, "permit.pdf", PDF)
    assert client.send(f"{FILES}/1/deletion", {}).status_code == 303
    assert "permit.pdf is deleted." in client.get("/enquiries/1").text
    assert client.get(f"{FILES}/1").status_code == 404
    assert of(streets) == ()


@pytest.mark.parametrize("number", ["9", "99999999999999999999"])
def test_a_file_that_is_not_there(client, planned, number):
    assert client.get(f"{FILES}/{number}").status_code == 404


def test_a_file_of_an_enquiry_that_is_not_there_is_not_kept(client, streets):
    assert send(client, "permit.pdf", PDF).status_code == 404
