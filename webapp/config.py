"""Where things are kept and what the program allows; nothing here is read from a page."""

from __future__ import annotations

import os
import secrets
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from platformdirs import user_data_path

from models.exchange.papers_file import LARGEST_BYTES
from models.planning.account.passphrase import METHOD

LOOPBACK_NAMES = ("127.0.0.1", "localhost", "[::1]")
FORM_BYTES = 2_000_000
UPLOAD_BYTES = LARGEST_BYTES + 100_000
"""A file as large as may be kept, with the form round it."""
DATABASE_VARIABLE = "KERBSTAND_DATABASE_URL"


def defaults() -> dict[str, Any]:
    """The settings of a Flask app that answers on this machine only. SIGN_IN: whether the passphrase is asked for.

    HTTPS: whether every reader comes over HTTPS, so that cookies are for HTTPS only.
    """
    return {
        "SECRET_KEY": None,
        "ALLOWED_HOSTS": LOOPBACK_NAMES,
        "MAX_CONTENT_LENGTH": FORM_BYTES,
        "MAX_FORM_MEMORY_SIZE": FORM_BYTES,
        "SESSION_COOKIE_NAME": "kerbstand",
        "SESSION_COOKIE_SAMESITE": "Lax",
        "SESSION_COOKIE_HTTPONLY": True,
        "SIGN_IN": False,
        "HTTPS": False,
        "PASSPHRASE_METHOD": METHOD,
        "WTF_CSRF_TIME_LIMIT": None,
        "RATELIMIT_STORAGE_URI": "memory://",
        "RATELIMIT_ADDRESS_SEARCH": "20 per minute",
        "RATELIMIT_SIGN_IN": "10 per 10 minutes",
        "RATELIMIT_SIGN_IN_ALL": "100 per hour",
        "RATELIMIT_BRIEFING": "300 per minute",
        "RATELIMIT_BRIEFING_FILE": "60 per minute",
        "RATELIMIT_BRIEFING_WRONG": "30 per 10 minutes",
        "COMPRESS_MIMETYPES": [
            "text/html",
            "text/css",
            "text/javascript",
            "application/json",
            "application/geo+json",
            "image/svg+xml",
        ],
        "COMPRESS_ALGORITHM": ["br", "gzip"],
        "COMPRESS_STREAMS": False,  # files from disk go out as they are: squeezed ones would stay open
        "CLOCK": this_instant,
    }


def this_instant() -> datetime:
    """UTC; where the program meets the clock."""
    return datetime.now(UTC)


def data_folder() -> Path:
    """The user's data folder of this platform, made when missing, for its owner only."""
    folder = user_data_path("kerbstand", appauthor=False)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def database_url() -> str:
    """The user's own database: KERBSTAND_DATABASE_URL, else a file in the data folder."""
    return os.environ.get(DATABASE_VARIABLE) or f"sqlite:///{data_folder() / 'kerbstand.sqlite3'}"


def demo_path() -> Path:
    """The demo town's database: never the user's own."""
    return data_folder() / "havenmark-demo.sqlite3"


def kept_secret(folder: Path | None = None) -> str:
    """The key that signs cookies, made once and readable by its owner only."""
    path = (folder or data_folder()) / "secret-key"
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text(encoding="ascii")
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secret := secrets.token_hex(32))
    return secret
