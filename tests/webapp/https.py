"""A browser of sorts for one name over TLS, wherever that name really is: a server on this machine."""

from __future__ import annotations

import re
import socket
import ssl
from dataclasses import dataclass, field
from http.client import HTTPResponse, HTTPSConnection
from http.cookies import Morsel, SimpleCookie
from urllib.parse import urlencode


class Here(HTTPSConnection):
    """Connects to this machine and asks for `host` all the same, as a name server would have it."""

    def connect(self) -> None:
        plain = socket.create_connection(("127.0.0.1", self.port), self.timeout)
        self.sock = self._context.wrap_socket(plain, server_hostname=self.host)


@dataclass
class Browser:
    """Keeps cookies, sends forms with the token of their page, and trusts one authority."""

    name: str
    port: int
    trusts: ssl.SSLContext
    cookies: dict[str, Morsel] = field(default_factory=dict)

    def get(self, path: str, host: str = "") -> tuple[HTTPResponse, str]:
        return self._ask("GET", path, host=host)

    def send(self, path: str, form: dict[str, str], page: str) -> tuple[HTTPResponse, str]:
        found = re.search(r'name="csrf_token" value="([^"]+)"', self.get(page)[1])
        assert found, f"{page} has no form"
        return self._ask("POST", path, urlencode(form | {"csrf_token": found[1]}), page=page)

    def _ask(self, method: str, path: str, body: str = "", *, host: str = "", page: str = "/"):
        here = f"{self.name}:{self.port}"
        headers = {"Host": host or here, "Referer": f"https://{here}{page}"}
        headers["Cookie"] = "; ".join(f"{name}={cookie.value}" for name, cookie in self.cookies.items())
        if body:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        connection = Here(self.name, self.port, context=self.trusts, timeout=20)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            text = answer.read().decode("utf-8", "replace")
        finally:
            connection.close()
        for line in answer.headers.get_all("Set-Cookie") or ():
            self.cookies.update(SimpleCookie(line))
        return answer, text
