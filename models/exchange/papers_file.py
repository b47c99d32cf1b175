"""Files that come with an answer: a PDF or a picture, told by what is in them and not by their name.

Pictures are written anew, so that nothing rides along: no place, no camera, no comment, no second file. A PDF is
kept as it came; what is in it is not looked into, so it may only ever be handed out as a download.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from io import BytesIO
from typing import NamedTuple

from PIL import Image, ImageOps, UnidentifiedImageError

from models.problems import InputProblem

LARGEST_BYTES = 5_000_000
MOST_PIXELS = 50_000_000
"""A picture of 50 megapixels takes up to 200 MB while it is read; papers need far less."""
LONGEST_NAME = 100
ENDINGS = {
    "application/pdf": ("pdf",),
    "image/jpeg": ("jpg", "jpeg"),
    "image/png": ("png",),
    "image/webp": ("webp",),
}
WORDS = {
    "application/pdf": "a PDF",
    "image/jpeg": "a JPEG picture",
    "image/png": "a PNG picture",
    "image/webp": "a WebP picture",
}
KINDS = {"JPEG": "image/jpeg", "MPO": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
_ENDING = re.compile(r"(.+)\.([A-Za-z][A-Za-z0-9]{1,4})", re.DOTALL)
_PDF_START = re.compile(rb"%PDF-[12]\.\d[\s%]")
_PDF_END = re.compile(rb"startxref\s+\d+\s+%%EOF\s*\Z")
_PDF_TAIL = 2048  # bytes in which the end has to stand
_ZIP_END, _ZIP_END_BYTES, _ZIP_COMMENT = b"PK\x05\x06", 22, 65_535


class CheckedFile(NamedTuple):
    """A file fit to be kept. kind: its media type."""

    name: str
    kind: str
    data: bytes


def checked_file(name: str, data: bytes) -> CheckedFile:
    """The file with a safe name and, for a picture, written anew; or InputProblem on "file"."""
    if not data:
        raise InputProblem("file", "is empty")
    if len(data) > LARGEST_BYTES:
        raise InputProblem("file", f"is {len(data) / 1e6:.1f} MB; at most {LARGEST_BYTES / 1e6:.0f} MB")
    if data.startswith(b"%PDF-"):
        kind, good = "application/pdf", _pdf(data)
    else:
        kind, good = _picture(data)
    return CheckedFile(_safe_name(name, kind), kind, good)


def _pdf(data: bytes) -> bytes:
    if not _PDF_START.match(data):
        raise InputProblem("file", "begins like a PDF but names no version of it")
    if not _PDF_END.search(data[-_PDF_TAIL:]):
        raise InputProblem("file", "is a PDF without its end: it was cut short, or something was added to it")
    if _is_zip_too(data):
        raise InputProblem("file", "is a PDF and a ZIP archive at once; save it as a plain PDF")
    return data


def _is_zip_too(data: bytes) -> bool:
    """Whether an archive's directory ends where the file ends; its comment may hide the end of a PDF."""
    start = max(0, len(data) - _ZIP_END_BYTES - _ZIP_COMMENT)
    for found in re.finditer(re.escape(_ZIP_END), data[start:]):
        end = start + found.start() + _ZIP_END_BYTES
        if end <= len(data) and end + struct.unpack("<H", data[end - 2 : end])[0] == len(data):
            return True
    return False


def _picture(data: bytes) -> tuple[str, bytes]:
    try:
        with Image.open(BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as picture:
            kind = KINDS[picture.format or ""]
            if picture.width * picture.height <= MOST_PIXELS:
                return kind, _written_anew(picture, kind)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        pass
    except UnidentifiedImageError:
        raise InputProblem("file", "is neither a PDF nor a JPEG, PNG or WebP picture") from None
    except Exception:  # a decoder raises whatever a broken file makes it trip over
        raise InputProblem("file", "is a picture that cannot be read to its end") from None
    raise InputProblem("file", f"is a picture of over {MOST_PIXELS / 1e6:.0f} megapixels; make it smaller")


def _written_anew(picture: Image.Image, kind: str) -> bytes:
    """Upright, first frame only, and of what was noted in it nothing but which colour is transparent."""
    upright = ImageOps.exif_transpose(picture)
    transparent = upright.info.get("transparency")
    if kind == "image/jpeg" and upright.mode not in ("L", "RGB"):
        upright = upright.convert("RGB")
    if kind == "image/webp" and upright.mode not in ("RGB", "RGBA"):
        upright = upright.convert("RGBA")
    upright.info = {} if transparent is None else {"transparency": transparent}
    into = BytesIO()
    upright.save(into, format=kind.removeprefix("image/").upper(), quality=90)
    return into.getvalue()


def _safe_name(name: str, kind: str) -> str:
    """Letters, digits and a few signs, with the ending of its kind; or InputProblem where it ends otherwise."""
    last = unicodedata.normalize("NFC", re.split(r"[\\/]", name)[-1])
    stem, ending = match.groups() if (match := _ENDING.fullmatch(last)) else (last, "")
    if ending and ending.casefold() not in ENDINGS[kind]:
        raise InputProblem("file", f"is named .{ending} but holds {WORDS[kind]}; give it its right name")
    plain = "".join(letter if letter.isalnum() or letter in " -_.," else "_" for letter in stem)
    return f"{' '.join(plain.split()).strip(' .')[:LONGEST_NAME] or 'paper'}.{ENDINGS[kind][0]}"
