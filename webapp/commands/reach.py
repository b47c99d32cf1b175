"""How far the program is reached, decided before it answers anybody: this machine only, by certificate, by proxy."""

from __future__ import annotations

import ipaddress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click
from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from models.exchange.certificate import read_certificate
from models.problems import InputProblem
from webapp.commands.terminal import plain
from webapp.config import LOOPBACK_NAMES
from webapp.security import HOST

REFUSED = (
    "Beyond this machine Kerbstand answers over HTTPS only: give --certificate FILE --key FILE, or --behind-proxy NAME "
    "where a proxy in front holds the certificate, or leave --host out."
)
NO_ADDRESS = "--host takes an address of this machine: 127.0.0.1, ::1, 0.0.0.0 for all of them, or one it has."
HTTPS_PORT = 443


@dataclass(frozen=True, slots=True)
class Asked:
    """What stood on the command line."""

    host: str = "127.0.0.1"
    port: int = 0
    certificate: Path | None = None
    key: Path | None = None
    names: tuple[str, ...] = ()
    proxy: str | None = None
    sign_in: bool = False


@dataclass(frozen=True, slots=True)
class Reach:
    """names: what may stand in Host, without port; the first is printed. host: the address to listen at.

    sign_in: whether the passphrase is asked for. https: whether readers come over it; by_proxy: a proxy then speaks it.
    """

    host: str
    names: tuple[str, ...]
    sign_in: bool = False
    https: bool = False
    by_proxy: bool = False
    shown: str = ""

    def address(self, port: int) -> str:
        """Where a reader finds the front page, the program listening at `port`."""
        if self.by_proxy:
            return f"https://{self.shown}/"
        if self.https:
            return f"https://{self.shown}{'' if port == HTTPS_PORT else f':{port}'}/"
        return f"http://{self.shown}:{port}/"


def decided(asked: Asked, now: datetime) -> Reach:
    """Raises ClickException in one sentence that says what to do."""
    host = _listening_at(asked.host)
    only_here = ipaddress.ip_address(host).is_loopback
    _must_fit(asked)
    if asked.proxy is not None:
        name = _name("--behind-proxy", asked.proxy, with_port=True)
        return Reach(host, (_bare(name),), sign_in=True, https=True, by_proxy=True, shown=name)
    if asked.certificate and asked.key:
        names = _certified(asked, now)
        names += tuple(each for each in _own(host) if only_here and each not in names)
        return Reach(host, names, sign_in=asked.sign_in or not only_here, https=True, shown=names[0])
    if not only_here:
        raise click.ClickException(REFUSED)
    own = _own(host)
    return Reach(host, own, sign_in=asked.sign_in, shown=own[-1])


def apply(app: Flask, reach: Reach) -> None:
    """The app answers as far as this and no further."""
    app.config["ALLOWED_HOSTS"] = reach.names
    app.config["SIGN_IN"] = reach.sign_in
    app.config["HTTPS"] = reach.https
    if reach.https:
        app.config["SESSION_COOKIE_SECURE"] = True
        app.config["SESSION_COOKIE_NAME"] = "__Host-kerbstand"
    if reach.by_proxy:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1, x_proto=1, x_host=1, x_port=0, x_prefix=0)  # type: ignore[method-assign]


def _listening_at(host: str) -> str:
    try:
        return str(ipaddress.ip_address("127.0.0.1" if host == "localhost" else host.strip("[]")))
    except ValueError:
        raise click.ClickException(NO_ADDRESS) from None


def _must_fit(asked: Asked) -> None:
    if (asked.certificate is None) != (asked.key is None):
        raise click.ClickException("--certificate and --key belong together: give both.")
    if asked.proxy is not None and asked.certificate:
        raise click.ClickException("Give a certificate or --behind-proxy, not both: only one of the two speaks HTTPS.")
    if asked.names and not asked.certificate:
        raise click.ClickException("--name goes with --certificate; a proxy's name is given to --behind-proxy.")


def _certified(asked: Asked, now: datetime) -> tuple[str, ...]:
    """The names given, else those of the certificate."""
    given = tuple(_name("--name", each) for each in asked.names)
    try:
        held = read_certificate(asked.certificate or Path(), asked.key or Path(), now)
    except InputProblem as problem:
        raise click.ClickException(plain(f"--{problem.field}: {problem.message}")) from problem
    if unheld := [each for each in given if not _holds(held.names, held.patterns, each)]:
        raise click.ClickException(f"--name: the certificate is not for {unheld[0]}.")
    if not given and not held.names:
        raise click.ClickException("The certificate holds no plain name: say by which readers come with --name NAME.")
    return given or held.names


def _holds(names: tuple[str, ...], patterns: tuple[str, ...], name: str) -> bool:
    """RFC 6125, 6.4.3: a star stands for one label, the leftmost."""
    _, dot, rest = name.partition(".")
    return name in names or bool(dot and f"*.{rest}" in patterns)


def _name(option: str, text: str, *, with_port: bool = False) -> str:
    found = HOST.fullmatch(text)
    if not found or (found[2] and not with_port):
        raise click.ClickException(f"{option} takes a name as it stands in a browser's address, such as plans.example.")
    return text.lower()


def _bare(name: str) -> str:
    found = HOST.fullmatch(name)
    return found[1] if found else name


def _own(host: str) -> tuple[str, ...]:
    """The names of this machine, and the address it listens at last."""
    shown = f"[{host}]" if ":" in host else host
    return (*(each for each in LOOPBACK_NAMES if each != shown), shown)
