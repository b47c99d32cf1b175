"""A TLS certificate with its key, as files: whether they belong together, and for which names and until when.

Python reads a certificate only from the other end of a connection, so the two ends of one are joined in memory.
"""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path
from typing import Any

from models.problems import InputProblem

KINDS = ("DNS", "IP Address")
NO_CHECK_TIME = 0x200000
"""OpenSSL, X509_V_FLAG_NO_CHECK_TIME: the caller says what time it is."""


@dataclass(frozen=True, slots=True)
class Certificate:
    """names: lower case, an IPv6 address in brackets; patterns: names with a star, such as '*.example.org'."""

    names: tuple[str, ...]
    patterns: tuple[str, ...]
    starts_at: datetime
    ends_at: datetime


def read_certificate(certificate: Path, key: Path, now: datetime) -> Certificate:
    """Raises InputProblem for 'certificate' or 'key': no such thing in the file, not a pair, or not in force now."""
    server = _server_end(certificate, key)
    found = _seen_from_outside(server, certificate)
    starts_at, ends_at = (
        datetime.fromtimestamp(ssl.cert_time_to_seconds(found[name]), UTC) for name in ("notBefore", "notAfter")
    )
    if ends_at <= now:
        raise InputProblem("certificate", f"it ended on {ends_at:%Y-%m-%d}. Give a renewed one.")
    if starts_at > now:
        raise InputProblem("certificate", f"it is not good before {starts_at:%Y-%m-%d %H:%M} UTC.")
    names = tuple(_plain(kind, name) for kind, name in found.get("subjectAltName", ()) if kind in KINDS)
    plain = tuple(name for name in names if "*" not in name)
    return Certificate(plain, tuple(name for name in names if "*" in name), starts_at, ends_at)


def _plain(kind: str, name: str) -> str:
    return f"[{ip_address(name.strip())}]" if kind == "IP Address" and ":" in name else name.strip().lower()


def _server_end(certificate: Path, key: Path) -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    for field, path in (("certificate", certificate), ("key", key)):
        if not path.is_file():
            raise InputProblem(field, f"there is no file {path.name}.")
    try:
        context.load_cert_chain(certificate, key, password=_no_password)
    except _Locked:
        raise InputProblem("key", "it is locked with a password. Give one that is not.") from None
    except (ssl.SSLError, OSError) as problem:
        reason = getattr(problem, "reason", None) or ""
        if "MISMATCH" in reason:
            raise InputProblem("key", "it does not belong to that certificate.") from problem
        raise InputProblem("certificate", "that and the key are not a certificate and its key in PEM.") from problem
    return context


class _Locked(Exception):
    pass


def _no_password() -> str:
    raise _Locked


def _seen_from_outside(server: ssl.SSLContext, certificate: Path) -> dict[str, Any]:
    """What a client that trusts this very certificate is told of it."""
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = False
    client.verify_flags |= ssl.VerifyFlags.VERIFY_X509_PARTIAL_CHAIN
    client.verify_flags |= NO_CHECK_TIME
    client.load_verify_locations(certificate)
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    asks = client.wrap_bio(to_client, to_server)
    answers = server.wrap_bio(to_server, to_client, server_side=True)
    try:
        for _ in range(4):
            for end in (asks, answers):
                _one_step(end)
        told = asks.getpeercert()
    except (ssl.SSLError, ValueError) as problem:
        raise InputProblem("certificate", "no browser would take it for a server's certificate.") from problem
    return dict(told or {})


def _one_step(end: ssl.SSLObject) -> None:
    try:
        end.do_handshake()
    except ssl.SSLWantReadError:
        return
