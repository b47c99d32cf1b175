"""Starting: where it listens, what the terminal says, and one way through sign-in over TLS on a name of its own."""

from __future__ import annotations

import asyncio
import re
import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import ExitStack, closing
from functools import partial
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import click
import pytest
import trustme
from click.testing import CliRunner
from flask.cli import ScriptInfo

from models.planning.account import signing_in
from tests.webapp.account.conftest import FAST, GOOD
from tests.webapp.conftest import NOW
from tests.webapp.https import Browser
from tests.webapp.started import started
from webapp.cli import main
from webapp.commands import running, serving
from webapp.commands.reach import Asked, decided

NAME = "kerbstand.test"
LINK = re.compile(rf"https://{NAME}:\d+(/sign-in/[\w-]{{43}})\n")


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    return trustme.CA()


@pytest.fixture(scope="module")
def pair(authority: trustme.CA, tmp_path_factory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("tls")
    made = authority.issue_cert(NAME)
    made.private_key_pem.write_to_path(str(folder / "key.pem"))
    made.cert_chain_pems[0].write_to_path(str(folder / "certificate.pem"))
    return {"certificate": folder / "certificate.pem", "key": folder / "key.pem"}


@pytest.fixture
def secure(app, authority, pair, monkeypatch, capsys) -> Iterator[tuple[Browser, str]]:
    """A browser that has opened nothing yet, and what the terminal said."""
    app.config.update(PASSPHRASE_METHOD=FAST)
    stop = threading.Event()

    async def stopped() -> None:
        while not stop.is_set():
            await asyncio.sleep(0.02)

    ports, started, listen = [], threading.Event(), running.listening

    def listening(*where, **how) -> socket.socket:
        listener = listen(*where, **how)
        ports.append(listener.getsockname()[1])
        started.set()
        return listener

    monkeypatch.setattr(serving, "listening", listening)
    monkeypatch.setattr(serving, "answer_securely", partial(running.answer_securely, stopped=stopped))
    asked = Asked(sign_in=True, **pair)
    thread = threading.Thread(target=serving.run, args=(app, asked, decided(asked, NOW)), daemon=True)
    thread.start()
    assert started.wait(20)
    trusts = ssl.create_default_context()
    authority.configure_trust(trusts)
    browser = Browser(NAME, ports[0], trusts)
    assert browser.get("/healthz")[0].status == 200
    yield browser, capsys.readouterr().out
    stop.set()
    thread.join(30)
    assert not thread.is_alive()


def test_sign_in_from_first_start_over_tls_on_a_name_of_its_own(secure):
    browser, said = secure
    link = LINK.search(said)[1]
    assert browser.get("/spots.json")[0].status == 401
    away, _ = browser.get("/settings")
    assert (away.status, away.headers["Location"]) == (303, "/sign-in?next=/settings")

    done, _ = browser.send(link, {"passphrase": GOOD, "again": GOOD}, link)
    assert (done.status, done.headers["Location"]) == (303, "/")
    kept = browser.cookies["__Host-kerbstand-sign-in"]
    assert (kept["secure"], kept["httponly"], kept["samesite"], kept["path"]) == (True, True, "Lax", "/")
    assert {bool(cookie["secure"]) for cookie in browser.cookies.values()} == {True}
    answer, text = browser.get("/spots.json")
    assert answer.status == 200
    assert "Foundry Lane" in text
    assert browser.get(link)[0].status == 410

    assert browser.send("/sign-out", {}, "/settings")[0].status == 303
    assert browser.get("/spots.json")[0].status == 401
    wrong, text = browser.send("/sign-in", {"passphrase": "not this one at all", "next": ""}, "/sign-in")
    assert wrong.status == 422
    assert "That is not the passphrase." in text
    again, _ = browser.send("/sign-in", {"passphrase": GOOD, "next": "/account"}, "/sign-in")
    assert (again.status, again.headers["Location"]) == (303, "/account")
    assert browser.get("/account.json")[0].status == 200


def test_over_tls_it_answers_as_it_should(secure):
    browser, _ = secure
    assert browser.get("/sign-in", host="evil.example")[0].status == 400
    css, text = browser.get("/static/css/kerbstand.css")
    assert (css.status, int(css.headers["Content-Length"])) == (200, len(text.encode()))
    assert len(css.headers.get_all("Date")) == 1
    assert "Server" not in css.headers
    bare, text = browser._ask("HEAD", "/sign-in")
    assert (bare.status, text) == (200, "")
    large, _ = browser._ask("POST", "/sign-in", "x" * (running.MOST_BODY + 1))
    assert large.status == 400
    with ExitStack() as silent:
        for _ in range(3 * running.THREADS):
            silent.enter_context(closing(socket.create_connection(("127.0.0.1", browser.port))))
        assert browser.get("/healthz")[0].status == 200


def test_it_serves_until_stopped_and_prints_where(app, monkeypatch, capsys):
    with started(app, Asked(), monkeypatch) as port, urlopen(f"http://127.0.0.1:{port}/healthz", timeout=10) as answer:
        assert answer.status == 200
    said = capsys.readouterr().out
    assert f"Open http://127.0.0.1:{port}/ in a browser." in said
    assert "passphrase" not in said


def test_what_the_proxy_says_reaches_the_program(app, monkeypatch, capsys):
    said = {"X-Forwarded-Host": "plans.example", "X-Forwarded-Proto": "https", "X-Forwarded-For": "203.0.113.9"}
    with started(app, Asked(proxy="plans.example"), monkeypatch) as port:
        with urlopen(Request(f"http://127.0.0.1:{port}/sign-in", headers=said), timeout=10) as page:
            assert page.status == 200
            assert page.headers["Set-Cookie"].startswith("__Host-kerbstand=")
        with pytest.raises(HTTPError, match="400"):
            urlopen(f"http://127.0.0.1:{port}/sign-in", timeout=10)
    assert re.search(r"within an hour at https://plans\.example/sign-in/[\w-]{43}\n", capsys.readouterr().out)


def test_without_a_proxy_nobody_is_believed_who_speaks_like_one(app, monkeypatch):
    said = {"X-Forwarded-Host": "plans.example", "X-Forwarded-For": "203.0.113.9", "Forwarded": "for=203.0.113.9"}
    with started(app, Asked(), monkeypatch) as port:
        with urlopen(Request(f"http://127.0.0.1:{port}/healthz", headers=said), timeout=10) as answer:
            assert answer.status == 200
        with pytest.raises(HTTPError, match="400"):
            urlopen(Request(f"http://127.0.0.1:{port}/healthz", headers={"Host": "plans.example"}), timeout=10)


def test_a_busy_port_is_said_and_a_free_one_taken(capsys):
    with closing(running.listening("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with closing(running.listening("127.0.0.1", port)) as other:
            free = other.getsockname()[1]
    assert free != port
    assert f"Port {port} is busy, so this is on {free} instead." in capsys.readouterr().out


def test_a_port_that_others_were_told_of_is_not_changed():
    with (
        closing(running.listening("127.0.0.1", 0)) as taken,
        pytest.raises(click.ClickException, match=r"is busy\. Stop what uses it"),
    ):
        running.listening("127.0.0.1", taken.getsockname()[1], fixed=True)


def test_an_address_of_another_machine_is_said():
    with pytest.raises(click.ClickException, match=r"no address 203\.0\.113\.9"):
        running.listening("203.0.113.9", 0)


@pytest.mark.parametrize("command", ["serve", "demo"])
def test_the_commands_refuse_before_they_touch_anything(app, command, monkeypatch):
    monkeypatch.setattr(serving, "open_demo", lambda path: pytest.fail("the demo was opened"))
    script = ScriptInfo(create_app=lambda: app, set_debug_flag=False)
    told = CliRunner().invoke(main, [command, "--host", "192.168.1.4", "--port", "0"], obj=script)
    assert told.exit_code == 1
    assert "--behind-proxy NAME" in told.output
    assert "Traceback" not in told.output


def test_the_terminal_says_a_link_until_a_passphrase_is_chosen(app, store):
    address = "https://plans.example/"
    said = serving.welcome(app, address)
    link = re.search(rf"{re.escape(address)}sign-in/(\S+)$", said)[1]
    assert signing_in.link_is_good(store, link, NOW)
    how = {"user_agent": "", "now": NOW, "method": FAST}
    signing_in.choose_passphrase(store, link, GOOD, GOOD, **how)
    assert serving.welcome(app, address) == (
        "The passphrase is asked for. Lost it? kerbstand sign-in prints a link to choose a new one."
    )


def test_a_lost_passphrase_needs_the_terminal_only(store, monkeypatch):
    from webapp.commands import signing_in as command

    monkeypatch.setattr(command, "database_url", lambda: store.engine.url.render_as_string(hide_password=False))
    monkeypatch.setattr(command, "this_instant", lambda: NOW)
    told = CliRunner().invoke(main, ["sign-in"])
    assert told.exit_code == 0, told.output
    assert re.search(r"^Open /sign-in/[\w-]{43} behind the address", told.output)
    signing_in.note_address(store, "https://plans.example/")
    told = CliRunner().invoke(main, ["sign-in"])
    link = re.search(r"^Open https://plans\.example/sign-in/([\w-]{43})\n", told.output)[1]
    assert signing_in.link_is_good(store, link, NOW)


def test_there_is_no_link_for_a_demo_that_was_never_opened(monkeypatch, tmp_path):
    from webapp.commands import signing_in as command

    monkeypatch.setattr(command, "demo_path", lambda: tmp_path / "none.sqlite3")
    told = CliRunner().invoke(main, ["sign-in", "--demo"])
    assert told.exit_code == 1
    assert "kerbstand demo" in told.output
    assert not (tmp_path / "none.sqlite3").exists()
