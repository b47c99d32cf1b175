"""Asks a forecast service. The only place that does, and only when somebody presses.

As MET Norway's terms ask (api.met.no, from memory): who asks says so in the User-Agent, coordinates have four decimals
at most, nothing is asked for again before it expires, and then with If-Modified-Since.
"""

from __future__ import annotations

import socket
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from http.client import HTTPConnection, HTTPException, HTTPResponse, HTTPSConnection
from threading import Event, Timer
from urllib.parse import urlsplit

from models.exchange.locationforecast import FIELD, Forecast, read_forecast
from models.problems import InputProblem

TIMEOUT_S = 10.0
"""For the whole answer, and for reaching the service before that."""
LARGEST_BYTES = 2_000_000
"""Unpacked. A forecast is some 50 kB."""
USUAL_LIFE, LONGEST_LIFE = timedelta(minutes=30), timedelta(hours=24)
"""How long an answer counts as new that does not say so, and at most."""
OLDEST = timedelta(days=7)
"""Made longer ago, it is none; clocks may differ too."""
DECIMALS = 4
STAYS = "What is kept stays as it is."
REFUSALS = {
    403: "The service refuses this program (403). Look at the contact in the settings.",
    404: "The service knows no such address (404). Look at the address in the settings.",
    422: "The service has no forecast for this place (422).",
    429: "The service was asked too often (429). Wait a while before you fetch again.",
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What a service answered. forecast: None where it has nothing newer. last_modified: to be sent with the next."""

    forecast: Forecast | None
    expires: datetime
    last_modified: str


class Refused(InputProblem):
    """The service did not give a forecast. again_after: how long to leave it alone."""

    def __init__(self, message: str, again_after: timedelta = timedelta(minutes=1)) -> None:
        super().__init__(FIELD, f"{message} {STAYS}")
        self.again_after = again_after


def ask_forecast(
    address: str, latitude_deg: float, longitude_deg: float, contact: str, source: str, last_modified: str = "",
    *, now: datetime, timeout_s: float = TIMEOUT_S,
) -> Asked:  # fmt: skip
    """A forecast for a place. last_modified: of the last answer for it. Raises Refused."""
    parts = urlsplit(address)
    where = f"{parts.path or '/'}?lat={latitude_deg:.{DECIMALS}f}&lon={longitude_deg:.{DECIMALS}f}"
    head = {"User-Agent": f"kerbstand ({contact})", "Accept-Encoding": "gzip", "Accept": "application/json"}
    head |= {"If-Modified-Since": last_modified} if last_modified else {}
    kind = HTTPSConnection if parts.scheme == "https" else HTTPConnection
    try:
        with _connected(kind(parts.hostname or "", parts.port, timeout=timeout_s), timeout_s) as connection:
            connection.request("GET", where, headers=head)
            with connection.getresponse() as response:
                return _answered(response, source, last_modified, now)
    except (OSError, HTTPException, ValueError) as problem:
        if isinstance(problem, Refused):
            raise
        if isinstance(problem, InputProblem):
            raise Refused(problem.message) from None
        raise Refused("The forecast service did not answer. Try again later.") from None


@contextmanager
def _connected(connection: HTTPConnection, timeout_s: float) -> Iterator[HTTPConnection]:
    """An open connection that is cut when its time is over, however little comes in at a time. Raises Refused then."""
    connection.connect()
    over = Event()
    cut = Timer(timeout_s, _cut, (connection.sock, over))
    cut.daemon = True
    cut.start()
    try:
        yield connection
    finally:
        cut.cancel()
        connection.close()
        if over.is_set():
            raise Refused(f"The forecast service did not answer within {timeout_s:g} seconds. Try again later.")


def _cut(sock: socket.socket, over: Event) -> None:
    over.set()
    with suppress(OSError):
        sock.shutdown(socket.SHUT_RDWR)


def _answered(response: HTTPResponse, source: str, last_modified: str, now: datetime) -> Asked:
    expires = _expires(response.headers.get("Expires"), now)
    if response.status == 304 and last_modified:
        return Asked(None, expires, last_modified)
    if response.status not in (200, 203):
        raise _refusal(response)
    forecast = read_forecast(_body(response), source)
    if abs(forecast.issued_at - now) > OLDEST:
        raise Refused(f"The service answered with a forecast made on {forecast.issued_at:%Y-%m-%d}.")
    return Asked(forecast, expires, _date_text(response.headers.get("Last-Modified", "")))


def _body(response: HTTPResponse) -> bytes:
    """Unpacked, and never more than LARGEST_BYTES of it in memory."""
    data = response.read(LARGEST_BYTES + 1)
    if response.headers.get("Content-Encoding", "").strip().lower() == "gzip":
        try:
            unpacking = zlib.decompressobj(wbits=31)
            data = unpacking.decompress(data, LARGEST_BYTES + 1)
        except zlib.error:
            raise Refused("The service's answer cannot be unpacked.") from None
    if len(data) > LARGEST_BYTES:
        raise Refused("The service answered with far more than a forecast.")
    return data


def _refusal(response: HTTPResponse) -> Refused:
    status = response.status
    if status in REFUSALS:
        return Refused(REFUSALS[status], timedelta(minutes=10 if status == 429 else 1))
    if 300 <= status < 400:
        return Refused(f"The service points elsewhere ({status}), which is not followed. Look at its address.")
    what = "is in trouble" if status >= 500 else "answered with something else"
    return Refused(f"The service {what} ({status}). Try again later.")


def _date_text(text: str) -> str:
    """The text where it is a date that can be sent back, else nothing."""
    with suppress(TypeError, ValueError, OverflowError):
        parsedate_to_datetime(text)
        return text if text.isascii() and text.isprintable() and len(text) < 50 else ""
    return ""


def _expires(text: str | None, now: datetime) -> datetime:
    try:
        until = parsedate_to_datetime(text or "")
        until = until.replace(tzinfo=UTC) if until.tzinfo is None else until.astimezone(UTC)
    except (TypeError, ValueError, OverflowError):
        until = now + USUAL_LIFE
    return min(max(until, now), now + LONGEST_LIFE)
