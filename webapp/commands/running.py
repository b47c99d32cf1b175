"""Listening and answering until stopped: waitress on plain http, hypercorn where the program speaks HTTPS itself."""

from __future__ import annotations

import asyncio
import errno
import gc
import logging
import socket
from collections.abc import Awaitable, Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import click
from hypercorn.asyncio import serve as serve_tls
from hypercorn.config import Config
from waitress import create_server

from webapp.config import FORM_BYTES
from webapp.working_ahead import Answering

THREADS = 6
MOST_BODY = 8 * FORM_BYTES
"""What is far over the size of a form is cut off before the app sees it."""
HANDSHAKE_S, READ_S = 10.0, 60


def listening(address: str, port: int, *, fixed: bool = False) -> socket.socket:
    """A listening socket on this port; where it is taken on a free one, which is said, or with `fixed` not at all."""
    try:
        return _bound(address, port)
    except PermissionError as problem:
        raise click.ClickException(f"Port {port} is reserved on this machine. Choose one over 1023.") from problem
    except OSError as problem:
        if problem.errno == errno.EADDRNOTAVAIL:
            raise click.ClickException(f"This machine has no address {address}.") from problem
        if fixed:
            raise click.ClickException(f"Port {port} is busy. Stop what uses it, or choose another.") from problem
        listener = _bound(address, 0)
        click.echo(f"Port {port} is busy, so this is on {listener.getsockname()[1]} instead.")
        return listener


def answer_plainly(app: Answering, listener: socket.socket, *, by_proxy: bool = False) -> None:
    """Over http. by_proxy: what the proxy says of the reader is kept, for the app to read."""
    # waitress tells each time that a request waits for a thread: nobody asked
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    server = create_server(
        app,
        sockets=[listener],
        threads=THREADS,
        max_request_body_size=MOST_BODY,
        ident=None,
        clear_untrusted_proxy_headers=not by_proxy,
    )
    server.run()


def answer_securely(
    app: Answering,
    listener: socket.socket,
    certificate: Path,
    key: Path,
    stopped: Callable[..., Awaitable[Any]] | None = None,
) -> None:
    """Over HTTPS. A reader who is slow with the handshake, or silent, holds up nobody.

    stopped: returns when it shall stop; without, Ctrl+C does.
    """
    # a reader who breaks off in the middle is no news
    logging.getLogger("asyncio").setLevel(logging.CRITICAL)
    config = Config()
    config.certfile, config.keyfile = str(certificate), str(key)
    config.bind = [f"fd://{listener.detach()}"]
    config.alpn_protocols = ["http/1.1"]
    config.include_server_header = False
    config.wsgi_max_body_size = MOST_BODY
    config.ssl_handshake_timeout, config.read_timeout = HANDSHAKE_S, READ_S
    config.loglevel = "ERROR"

    async def run() -> None:
        with ThreadPoolExecutor(THREADS, "answering") as threads:
            asyncio.get_running_loop().set_default_executor(threads)
            await serve_tls(never_empty(app), config, shutdown_trigger=stopped, mode="wsgi")

    asyncio.run(run())


def never_empty(app: Answering) -> Answering:
    """hypercorn sends status and headers with the first piece of a body, and so never sends those of an empty one.

    It also dates every answer, those that are dated already too.
    """

    def answer(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        def start(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:
            return start_response(status, [each for each in headers if each[0].lower() != "date"], *more)

        pieces = app(environ, start)
        try:
            yield b""
            yield from pieces
        finally:
            if hasattr(pieces, "close"):
                pieces.close()

    return answer


def settle() -> None:
    """For a program that runs for days and holds some hundred thousand objects for good.

    It looks through all objects for what nobody needs only now and then: with 5,000 spots that takes 60 ms, which every
    other map waited for.
    """
    gc.set_threshold(20_000, 20, 50)


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
