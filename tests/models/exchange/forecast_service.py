"""A forecast service on this machine that answers like the public one, or as badly as it is told to."""

from __future__ import annotations

import gzip
import json
import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
UNITS = {
    "air_temperature": "celsius", "cloud_area_fraction": "%", "precipitation_amount": "mm", "relative_humidity": "%",
    "wind_speed": "m/s",
}  # fmt: skip


def step(starts: datetime, cloud: float = 62.5, *, rain: float | None = 0.2, over: str = "next_1_hours", **more: Any):
    """One step of a forecast; rain: None for a step that gives none."""
    details = {"air_temperature": 11.4, "cloud_area_fraction": cloud, "relative_humidity": 81.0, "wind_speed": 4.6}
    data: dict[str, Any] = {"instant": {"details": details | more}}
    if rain is not None:
        data[over] = {"summary": {"symbol_code": "lightrain"}, "details": {"precipitation_amount": rain}}
    return {"time": f"{starts:%Y-%m-%dT%H:%M:%SZ}", "data": data}


def answer(*steps: dict[str, Any], made: datetime = NOW - timedelta(hours=3), **changes: Any) -> dict[str, Any]:
    """A whole answer: by default four full hours and one of six."""
    first = NOW.replace(minute=0)
    usual = [step(first + timedelta(hours=n)) for n in range(4)]
    usual += [step(first + timedelta(hours=4), 100.0, rain=3.0, over="next_6_hours")]
    meta = {"updated_at": f"{made:%Y-%m-%dT%H:%M:%SZ}", "units": UNITS}
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [5.2312, 52.5301, 2]},
        "properties": {"meta": meta, "timeseries": list(steps) or usual} | changes,
    }


class Service:
    """What it was asked, and how it answers: status, body (bytes as they are), heads, and how it misbehaves."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, dict[str, str]]] = []
        self.status, self.body, self.packed = 200, json.dumps(answer()).encode(), True
        self.heads = {
            "Expires": format_datetime(NOW + timedelta(minutes=31), usegmt=True),
            "Last-Modified": format_datetime(NOW - timedelta(hours=3), usegmt=True),
        }
        self.way = "well"
        self.address = ""

    def tells(self, tree: Any, status: int = 200) -> None:
        self.status, self.body = status, tree if isinstance(tree, bytes) else json.dumps(tree).encode()


class _Handler(BaseHTTPRequestHandler):
    service: Service

    def do_GET(self) -> None:
        service = self.service
        service.asked.append((self.path, dict(self.headers)))
        if service.way == "well":
            return self._well()
        if service.way == "silent":
            time.sleep(1.5)
        elif service.way == "drip heads":
            self._drip(b"HTTP/1.1 200 OK\r\nX-A: ")
        elif service.way == "drip":
            self._drip(b"HTTP/1.1 200 OK\r\nContent-Length: 1000\r\n\r\n")
        elif service.way == "garbage":
            self.wfile.write(b"\x00\xff not a protocol\r\n\r\n")
        elif service.way == "short":
            self.wfile.write(b"HTTP/1.1 200 OK\r\nContent-Length: 1000\r\n\r\n{")
        self.close_connection = True
        return None

    def _well(self) -> None:
        service = self.service
        seen = self.headers.get("If-Modified-Since")
        if service.status == 200 and seen and seen == service.heads.get("Last-Modified"):
            return self._send(304, b"")
        return self._send(service.status, service.body)

    def _send(self, status: int, body: bytes) -> None:
        packed = self.service.packed and self.headers.get("Accept-Encoding") == "gzip" and bool(body)
        body = gzip.compress(body, 1) if packed else body
        self.send_response(status)
        heads = self.service.heads | ({"Content-Encoding": "gzip"} if packed else {})
        for name, value in (heads | {"Content-Length": str(len(body))}).items():
            self.send_header(name, value)
        self.end_headers()
        try:
            self.wfile.write(body)
        except OSError:  # who asked had enough
            return

    def _drip(self, head: bytes) -> None:
        try:
            self.wfile.write(head)
            for _ in range(75):
                self.wfile.write(b"1")
                time.sleep(0.02)
        except OSError:
            return

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing: a test says what it looks at."""


@contextmanager
def serving() -> Iterator[Service]:
    service = Service()
    server = ThreadingHTTPServer(("127.0.0.1", 0), type("Handler", (_Handler,), {"service": service}))
    server.daemon_threads = True
    service.address = f"http://127.0.0.1:{server.server_port}/2.0/compact"
    thread = Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    try:
        yield service
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def dead_address() -> str:
    """Where nothing listens."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return f"http://127.0.0.1:{taken.getsockname()[1]}/compact"
