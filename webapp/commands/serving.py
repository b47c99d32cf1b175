"""Starting the program: on the user's own spots, or on the demo town."""

from __future__ import annotations

import gc
import ipaddress
import logging
import socket

import click
from flask import Flask, current_app
from flask.cli import with_appcontext
from waitress import create_server

from models.planning.demo import open_demo
from models.planning.warming import warming
from webapp import create_app
from webapp.config import FORM_BYTES, LOOPBACK_NAMES, demo_path
from webapp.daily import erasing_daily
from webapp.working_ahead import Traffic, working_ahead

PORT = 8430
THREADS = 6
REFUSED = (
    "Kerbstand answers on this machine only. It has no sign-in yet, so anybody who reached it over a network "
    "could read and change every name, number and plan in it. Leave --host out, or give 127.0.0.1 or ::1."
)

_port = click.option(
    "--port", default=PORT, show_default=True, type=click.IntRange(0, 65535), help="0 picks a free one."
)
_host = click.option("--host", default="127.0.0.1", show_default=True, help="An address of this machine's loopback.")


@click.command()
@_port
@_host
def demo(port: int, host: str) -> None:
    """Start on Havenmark, an invented town, in a database of its own."""
    listener = listening(host, port)
    app = create_app(open_demo(demo_path()))
    click.echo("Havenmark is an invented harbour town; nothing here touches your own spots.")
    run(app, listener)


@click.command()
@_port
@_host
@with_appcontext
def serve(port: int, host: str) -> None:
    """Start on your own spots."""
    run(current_app._get_current_object(), listening(host, port))  # type: ignore[attr-defined]


def run(app: Flask, listener: socket.socket) -> None:
    """Answer until stopped. What is far over the size of a form is cut off before it is read."""
    _settle()
    host, port = listener.getsockname()[:2]
    name = f"[{host}]" if ":" in host else host
    app.config["ALLOWED_HOSTS"] = (*LOOPBACK_NAMES, name)
    traffic = Traffic(app)
    server = create_server(
        traffic, sockets=[listener], threads=THREADS, max_request_body_size=8 * FORM_BYTES, ident=None
    )
    click.echo(f"Open http://{name}:{port}/ in a browser. Ctrl+C stops.")
    ahead = working_ahead(traffic, lambda: warming(app.extensions["kerbstand"], app.config["CLOCK"]()))
    with erasing_daily(app), ahead:
        server.run()


def _settle() -> None:
    """For a program that runs for days and holds some hundred thousand objects for good.

    It looks through all objects for what nobody needs only now and then: with 5,000 spots that takes 60 ms, which every
    other map waited for. Waitress tells each time that a request waits for a thread: nobody asked.
    """
    gc.set_threshold(20_000, 20, 50)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)


def listening(host: str, port: int) -> socket.socket:
    """A listening loopback socket on this port, or on a free one when it is taken, which is said."""
    address = loopback(host)
    try:
        return _bound(address, port)
    except PermissionError as problem:
        raise click.ClickException(f"Port {port} is reserved on this machine. Choose one over 1023.") from problem
    except OSError:
        listener = _bound(address, 0)
        click.echo(f"Port {port} is busy, so this is on {listener.getsockname()[1]} instead.")
        return listener


def loopback(host: str) -> str:
    """The address, if it is this machine talking to itself; any other is refused."""
    try:
        address = ipaddress.ip_address("127.0.0.1" if host == "localhost" else host.strip("[]"))
    except ValueError:
        raise click.ClickException(REFUSED) from None
    if not address.is_loopback:
        raise click.ClickException(REFUSED)
    return str(address)


def _bound(address: str, port: int) -> socket.socket:
    listener = socket.socket(socket.AF_INET6 if ":" in address else socket.AF_INET, socket.SOCK_STREAM)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((address, port))
        listener.listen(128)
    except OSError:
        listener.close()
        raise
    return listener
