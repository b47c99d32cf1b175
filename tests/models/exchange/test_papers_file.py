"""Files that come with an answer: told by what is in them, pictures stripped, the rest refused by name."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ExifTags, Image, PngImagePlugin

from models.exchange.papers_file import LARGEST_BYTES, LONGEST_NAME, CheckedFile, checked_file
from models.problems import InputProblem

PDF = (
    b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog >>\nendobj\n"
    b"xref\n0 2\ntrailer\n<< /Root 1 0 R >>\nstartxref\n57\n%%EOF\n"
)
NOTED_IN_IT = "52.3702N Ana's telephone"
ENDINGS = {"JPEG": "jpg", "PNG": "png", "WEBP": "webp"}


def drawn(mode="RGB", size=(40, 30)):
    """Left half dark, right half light."""
    picture = Image.new("L", size, 40)
    picture.paste(220, (size[0] // 2, 0, *size))
    return picture.convert(mode)


def written(kind, picture=None, **options):
    into = io.BytesIO()
    (picture or drawn()).save(into, kind, **options)
    return into.getvalue()


def with_everything(kind):
    """A picture that says where, when, by whom and with what it was taken, in every way its format has."""
    exif = Image.Exif()
    exif[ExifTags.Base.Artist] = NOTED_IN_IT
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] = "N"
    xmp = f"<x:xmpmeta xmlns:x='adobe:ns:meta/'>{NOTED_IN_IT}</x:xmpmeta>".encode()
    options = {"exif": exif, "icc_profile": NOTED_IN_IT.encode(), "xmp": xmp}
    if kind == "JPEG":
        options |= {"comment": NOTED_IN_IT}
    if kind == "PNG":
        noted = PngImagePlugin.PngInfo()
        noted.add_text("Author", NOTED_IN_IT)
        noted.add_text("Comment", NOTED_IN_IT, zip=True)
        noted.add_itxt("XML:com.adobe.xmp", xmp.decode())
        options |= {"pnginfo": noted}
    return written(kind, **options)


def problem_of(name, data):
    with pytest.raises(InputProblem) as problem:
        checked_file(name, data)
    assert problem.value.field == "file"
    return problem.value.message


def reopened(data):
    picture = Image.open(io.BytesIO(data))
    picture.load()
    return picture


def test_a_pdf_is_kept_as_it_came():
    assert checked_file("grant.pdf", PDF) == CheckedFile("grant.pdf", "application/pdf", PDF)


@pytest.mark.parametrize("end", [b"%%EOF", b"%%EOF\r\n", b"%%EOF\n\n \n"])
def test_a_pdf_ends_as_programs_end_it(end):
    assert checked_file("grant.pdf", PDF.replace(b"%%EOF\n", end)).kind == "application/pdf"


@pytest.mark.parametrize("kind", ENDINGS)
def test_a_picture_is_written_anew_and_looks_the_same(kind):
    found = checked_file(f"letter.{ENDINGS[kind]}", written(kind))
    assert (found.name, found.kind) == (f"letter.{ENDINGS[kind]}", f"image/{kind.lower()}")
    again = reopened(found.data)
    assert (again.format, again.size) == (kind, (40, 30))
    assert [again.convert("L").getpixel((x, 15)) for x in (4, 36)] == pytest.approx([40, 220], abs=6)


@pytest.mark.parametrize("kind", ENDINGS)
def test_nothing_that_was_noted_in_a_picture_stays(kind):
    before = with_everything(kind)
    assert NOTED_IN_IT.encode() in before
    after = checked_file("a", before).data
    assert NOTED_IN_IT.encode() not in after
    picture = reopened(after)
    assert dict(picture.getexif()) == {}
    assert {"exif", "xmp", "icc_profile", "comment", "Author", "XML:com.adobe.xmp"}.isdisjoint(picture.info)


def test_a_picture_on_its_side_is_set_upright():
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6  # the camera was held upright: to be turned a quarter clockwise
    turned = reopened(checked_file("a.jpg", written("JPEG", exif=exif)).data)
    assert turned.size == (30, 40)
    assert turned.convert("L").getpixel((15, 4)) < 80 < 180 < turned.convert("L").getpixel((15, 36))


@pytest.mark.parametrize(
    ("kind", "modes"),
    [("JPEG", ("L", "CMYK")), ("PNG", ("1", "P", "L", "LA", "RGBA", "I;16")), ("WEBP", ("RGBA", "L"))],
)
def test_pictures_of_every_mode_come_in(kind, modes):
    for mode in modes:
        picture = Image.new(mode, (4, 3)) if mode == "I;16" else drawn(mode)
        assert reopened(checked_file("a", written(kind, picture)).data).size == picture.size


def test_a_transparent_colour_stays_transparent():
    picture = drawn("P")
    data = checked_file("a.png", written("PNG", picture, transparency=picture.getpixel((4, 4)))).data
    assert [reopened(data).convert("RGBA").getpixel((x, 4))[3] for x in (4, 36)] == [0, 255]


def test_of_many_frames_the_first_is_kept():
    frames = [Image.new("RGB", (8, 8), (value, 0, 0)) for value in (0, 120, 240)]
    for kind in ("PNG", "WEBP"):
        data = checked_file("a", written(kind, frames[0], save_all=True, append_images=frames[1:])).data
        assert getattr(reopened(data), "n_frames", 1) == 1
    data = checked_file("a.jpg", written("MPO", frames[2], save_all=True, append_images=frames[:1])).data
    assert reopened(data).format == "JPEG"
    assert reopened(data).getpixel((4, 4))[0] > 200


@pytest.mark.parametrize("kind", ENDINGS)
def test_what_hangs_on_behind_a_picture_goes(kind):
    hidden = io.BytesIO()
    with zipfile.ZipFile(hidden, "w") as archive:
        archive.writestr("evil.exe", b"MZ" * 50)
    data = checked_file("a", written(kind) + hidden.getvalue() + b"<script>alert(1)</script>").data
    assert b"evil.exe" not in data
    assert b"script" not in data
    assert not zipfile.is_zipfile(io.BytesIO(data))


def test_a_pdf_that_is_an_archive_too_is_refused():
    archive = io.BytesIO(PDF.removesuffix(b"startxref\n57\n%%EOF\n"))
    with zipfile.ZipFile(archive, "a") as inside:
        inside.writestr("evil.exe", b"MZ" * 50)
        inside.comment = b"\nstartxref\n57\n%%EOF\n"
    both = archive.getvalue()
    assert both.startswith(b"%PDF-")
    assert zipfile.is_zipfile(io.BytesIO(both))
    assert "a PDF and a ZIP archive at once" in problem_of("grant.pdf", both)


@pytest.mark.parametrize(
    ("data", "problem"),
    [
        (b"", "is empty"),
        (b"\x00" * (LARGEST_BYTES + 1), "is 5.0 MB; at most 5 MB"),
        (PDF + b"\x00" * LARGEST_BYTES, "at most 5 MB"),
        (PDF[:-8], "a PDF without its end: it was cut short"),
        (PDF[: len(PDF) // 2], "a PDF without its end"),
        (PDF + b"<script>alert(1)</script>", "or something was added to it"),
        (b"%PDF-", "names no version"),
        (b"%PDF-9.9\n" + PDF, "names no version"),
        (b"\n" + PDF, "is neither a PDF nor a JPEG, PNG or WebP picture"),
        (b"MZ\x90\x00" + b"\x00" * 200, "is neither"),
        (b"PK\x03\x04" + b"\x00" * 200, "is neither"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is neither"),
        (b"<html>hello</html>", "is neither"),
        (b"hello", "is neither"),
        (written("GIF"), "is neither"),
        (written("TIFF"), "is neither"),
        (written("BMP"), "is neither"),
        (written("PDF") + written("PNG"), "or something was added to it"),
    ],
    ids=lambda value: value[:24] if isinstance(value, str) else "",
)
def test_everything_else_is_refused_by_name(data, problem):
    assert problem in problem_of("grant", data)


@pytest.mark.parametrize("kind", ENDINGS)
def test_a_picture_cut_short_is_refused(kind):
    noise = Image.fromarray(np.random.default_rng(1).integers(0, 255, (80, 80, 3), np.uint8))
    whole = written(kind, noise)
    for share in (0.3, 0.6, 0.95):
        assert problem_of("a", whole[: int(share * len(whole))]) in (
            "is a picture that cannot be read to its end",
            "is neither a PDF nor a JPEG, PNG or WebP picture",
        )


@pytest.mark.parametrize("size", [(7072, 7072), (12_000, 10_000), (60_000, 60_000), (2**31 - 1, 2**31 - 1)])
def test_a_small_file_of_a_huge_picture_is_refused_unread(size):
    """A bomb: some kilobytes that unfold to gigabytes of points."""
    head = struct.pack(">IIBBBBB", *size, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\x00" * 1000)), (b"IEND", b"")]
    bomb = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    assert "is a picture of over 50 megapixels; make it smaller" in problem_of("a.png", bomb)


def test_text_in_a_picture_that_unfolds_to_too_much_is_refused():
    data = written("PNG")
    bomb = b"Comment\x00\x00" + zlib.compress(b"a" * 50_000_000)
    chunk = struct.pack(">I", len(bomb)) + b"zTXt" + bomb + struct.pack(">I", zlib.crc32(b"zTXt" + bomb))
    assert problem_of("a.png", data[:33] + chunk + data[33:]) == "is a picture that cannot be read to its end"


@pytest.mark.parametrize(
    ("name", "data", "holds"),
    [
        ("grant.png", PDF, "is named .png but holds a PDF"),
        ("grant.exe", PDF, "is named .exe but holds a PDF"),
        ("grant.pdf.html", PDF, "is named .html but holds a PDF"),
        ("grant.pdf", written("PNG"), "is named .pdf but holds a PNG picture"),
        ("grant.PNG", written("JPEG"), "is named .PNG but holds a JPEG picture"),
        ("grant.jpg", written("WEBP"), "is named .jpg but holds a WebP picture"),
    ],
)
def test_a_name_that_says_something_else_is_refused(name, data, holds):
    assert holds in problem_of(name, data)


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("Grant of 3. March.pdf", "Grant of 3. March.pdf"),
        ("Letter 3. March", "Letter 3. March.pdf"),
        ("GRANT.PDF", "GRANT.pdf"),
        ("../../etc/passwd", "passwd.pdf"),
        ("C:\\Users\\ana\\grant.pdf", "grant.pdf"),
        ("Genehmigung Straße №7.pdf", "Genehmigung Straße _7.pdf"),
        ("e\u0301lan.pdf", "élan.pdf"),
        ('a"b\r\nSet-Cookie: x;.pdf', "a_b__Set-Cookie_ x_.pdf"),
        ("evil\u202efdp.pdf", "evil_fdp.pdf"),
        (".pdf", "pdf.pdf"),
        ("...", "paper.pdf"),
        ("", "paper.pdf"),
        ("\x00\x1b[2J", "__[2J.pdf".replace("[", "_")),
        ("v1.2", "v1.2.pdf"),
        ("x" * 300 + ".pdf", "x" * LONGEST_NAME + ".pdf"),
    ],
)
def test_names_are_kept_safe(name, kept):
    assert checked_file(name, PDF).name == kept


@given(name=st.text(max_size=60))
def test_whatever_the_name_it_is_safe_to_send(name):
    try:
        kept = checked_file(name, PDF).name
    except InputProblem as problem:
        kept = str(problem.message.startswith("is named .")) + ".pdf"
    assert kept.endswith(".pdf")
    assert kept.isprintable()
    assert not set(kept) & set("\"'/\\;:<>\r\n\x00")
    assert 4 < len(kept) <= LONGEST_NAME + 4


@given(st.binary(max_size=200), st.sampled_from([b"", b"%PDF-1.4\n", *(written(kind)[:60] for kind in ENDINGS)]))
def test_whatever_comes_is_refused_by_name_or_kept(tail, head):
    try:
        assert checked_file("a", head + tail).data
    except InputProblem as problem:
        assert problem.field == "file"  # noqa: PT017  either way is an answer
