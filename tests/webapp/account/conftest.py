"""The application with sign-in on, a passphrase that takes no time to hash, and a browser that is signed in."""

from __future__ import annotations

from datetime import datetime

import pytest
from flask import Flask

from models.planning.account import signing_in
from tests.webapp.conftest import NOW, Client

FAST = "scrypt:128:1:1"
GOOD = "four plain words here"
OTHER = "quay lane bridge yard"
COOKIE = "kerbstand-sign-in"


@pytest.fixture
def guarded(app: Flask) -> Flask:
    app.config.update(SIGN_IN=True, PASSPHRASE_METHOD=FAST)
    return app


@pytest.fixture
def chosen(guarded: Flask) -> Flask:
    """A passphrase was chosen by somebody whose browser is not one of the test's."""
    choose(guarded)
    return guarded


@pytest.fixture
def stranger(chosen: Flask) -> Client:
    return chosen.test_client()


@pytest.fixture
def signed_in(chosen: Flask) -> Client:
    return browser(chosen)


def browser(app: Flask) -> Client:
    """One more that is signed in."""
    client: Client = app.test_client()
    assert sign_in(client).status_code == 303
    return client


def sign_in(client: Client, passphrase: str = GOOD, onward: str = ""):
    return client.send("/sign-in", {"passphrase": passphrase, "next": onward}, "/sign-in")


def choose(app: Flask, passphrase: str = GOOD, now: datetime = NOW) -> str:
    store = app.extensions["kerbstand"]
    link = signing_in.new_link(store, now)
    how = {"user_agent": "", "now": now, "method": FAST}
    return signing_in.choose_passphrase(store, link, passphrase, passphrase, **how)
