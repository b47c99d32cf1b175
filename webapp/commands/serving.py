"""Starting the program: on the user's own spots, or on the demo town."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from flask import Flask, current_app
from flask.cli import with_appcontext

from models.planning.account import signing_in
from models.planning.demo import open_demo
from models.planning.warming import warming
from webapp import create_app
from webapp.commands.reach import Asked, Reach, apply, decided
from webapp.commands.running import answer_plainly, answer_securely, listening, settle
from webapp.config import demo_path, this_instant
from webapp.daily import erasing_daily
from webapp.working_ahead import Traffic, working_ahead

PORT = 8430
FILE = click.Path(path_type=Path)


def reached(command: Callable[..., Any]) -> Callable[..., Any]:
    """Where to listen, and how far that may be reached."""
    for option in (
        click.option("--sign-in", is_flag=True, help="Ask for the passphrase on this machine too."),
        click.option("--behind-proxy", "proxy", metavar="NAME", help="The name that a proxy in front answers to."),
        click.option("--name", "names", metavar="NAME", multiple=True, help="Only these names of the certificate."),
        click.option("--key", type=FILE, help="Its key, PEM, not locked."),
        click.option("--certificate", type=FILE, help="A TLS certificate with its chain, PEM."),
        click.option("--host", default="127.0.0.1", show_default=True, help="An address of this machine."),
        click.option(
            "--port", default=PORT, show_default=True, type=click.IntRange(0, 65535), help="0 picks a free one."
        ),
    ):
        command = option(command)
    return command


@click.command()
@reached
def demo(**given: Any) -> None:
    """Start on Havenmark, an invented town, in a database of its own."""
    asked = Asked(**given)
    reach = decided(asked, this_instant())
    app = create_app(open_demo(demo_path()))
    click.echo("Havenmark is an invented harbour town; nothing here touches your own spots.")
    run(app, asked, reach)


@click.command()
@reached
@with_appcontext
def serve(**given: Any) -> None:
    """Start on your own spots."""
    asked = Asked(**given)
    run(current_app._get_current_object(), asked, decided(asked, this_instant()))  # type: ignore[attr-defined]


def run(app: Flask, asked: Asked, reach: Reach) -> None:
    """Answer until stopped."""
    settle()
    listener = listening(reach.host, asked.port, fixed=reach.https)
    address = reach.address(listener.getsockname()[1])
    apply(app, reach)
    traffic = Traffic(app)
    click.echo(f"Open {address} in a browser. Ctrl+C stops.")
    if reach.sign_in:
        click.echo(welcome(app, address))
    ahead = working_ahead(traffic, lambda: warming(app.extensions["kerbstand"], app.config["CLOCK"]()))
    with erasing_daily(app), ahead:
        if asked.certificate and asked.key:
            answer_securely(traffic, listener, asked.certificate, asked.key)
        else:
            answer_plainly(traffic, listener, by_proxy=reach.by_proxy)


def welcome(app: Flask, address: str) -> str:
    """What the terminal says of sign-in: that it is asked for, or with no passphrase yet the link to choose one."""
    store = app.extensions["kerbstand"]
    signing_in.note_address(store, address)
    if signing_in.has_passphrase(store):
        return "The passphrase is asked for. Lost it? kerbstand sign-in prints a link to choose a new one."
    token = signing_in.new_link(store, app.config["CLOCK"]())
    return f"No passphrase is chosen yet. Choose it within an hour at {address}sign-in/{token}"
