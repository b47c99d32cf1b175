"""With sign-in on, nobody reads or changes anything without it; and however it was started, never from elsewhere."""

from __future__ import annotations

import pytest
from flask import Blueprint, Flask

from models.store.account import sign_ins
from tests.webapp.account.conftest import COOKIE, browser, sign_in
from tests.webapp.test_security import routes
from webapp.gate import public, public_endpoints

OPEN = {
    "static",
    "house.favicon",
    "house.health",
    "house.theme",
    "account.sign_in_form",
    "account.sign_in",
    "account.link",
    "account.choose",
    "shared_briefing.page",
    "shared_briefing.page_json",
    "shared_briefing.file",
    "shared_briefing.calendar",
    "shared_briefing.pdf",
    "shared_briefing.keeping",
}
"""All that answers a stranger: signing in, and what an unguessable link opens; nothing else should join it."""


def test_nothing_else_is_public(app):
    assert public_endpoints(app) == OPEN


def test_a_stranger_reads_nothing(stranger):
    app = stranger.application
    adapter = app.url_map.bind("localhost")
    looked_at = 0
    for path in [*routes(app, "GET"), "/nowhere", "/nowhere.json", "/spots/999"]:
        endpoint = adapter.match(path)[0] if "nowhere" not in path else ""
        if endpoint in public_endpoints(app):
            continue
        looked_at += 1
        refused = stranger.get(path)
        assert refused.status_code == (401 if path.endswith((".json", ".geojson", ".js")) else 303), path
        assert "Foundry" not in refused.text
        if refused.status_code == 303:
            assert refused.headers["Location"].startswith("/sign-in"), path
    assert looked_at > 60


def test_a_stranger_changes_nothing(stranger):
    app = stranger.application
    adapter = app.url_map.bind("localhost")
    token = stranger.token("/sign-in")
    looked_at = 0
    for path in routes(app, "POST"):
        if adapter.match(path, method="POST")[0] in public_endpoints(app):
            continue
        looked_at += 1
        refused = stranger.post(path, data={"csrf_token": token, "name": "x", "version": "1"})
        assert refused.status_code == 401, path
        assert "Nothing was saved" in refused.text
    assert looked_at > 40


@pytest.mark.parametrize("path", ["/spots.json", "/map/spots.geojson", "/account.json"])
def test_a_program_is_told_401_as_an_object(stranger, path):
    refused = stranger.get(path)
    assert refused.status_code == 401
    assert refused.mimetype == "application/json"
    assert refused.json["error"] == "Sign in first"


@pytest.mark.parametrize("method", ["head", "options", "put", "delete", "patch"])
def test_other_ways_of_asking_get_no_further(stranger, method):
    refused = getattr(stranger, method)("/spots/1")
    assert refused.status_code in (303, 401)
    assert "Allow" not in refused.headers


@pytest.mark.parametrize("token", ["", "x", "\x7f", "é", "a" * 4000, "../..", "' OR 1=1 --"])
def test_no_other_cookie_opens(stranger, token):
    stranger.set_cookie(COOKIE, token)
    assert stranger.get("/spots.json").status_code == 401


def test_who_is_signed_in_reads_everything(signed_in):
    assert signed_in.get("/spots.json").status_code == 200
    assert 'href="/account"' in signed_in.get("/settings").text
    assert signed_in.get("/nowhere").status_code == 404


def test_no_shared_cache_keeps_a_page(signed_in):
    assert signed_in.get("/settings").headers["Cache-Control"] == "private, no-cache"


def test_what_was_typed_can_be_sent_again_after_signing_in_anew(chosen):
    client = browser(chosen)
    form = {"csrf_token": client.token("/settings"), "turbidity": "4"}
    with chosen.extensions["kerbstand"].writing() as s:
        s.execute(sign_ins.delete())
    refused = client.post("/settings", data=form)
    assert refused.status_code == 401
    assert 'target="_blank"' in refused.text
    assert sign_in(client).status_code == 303
    assert client.post("/settings", data=form).status_code == 303
    assert 'value="4"' in client.get("/settings").text


@pytest.mark.parametrize("address", ["192.168.1.4", "8.8.8.8", "2001:db8::1", "::ffff:8.8.8.8", "", "nonsense"])
def test_without_sign_in_only_this_machine_is_answered(client, address):
    refused = client.get("/spots.json", environ_overrides={"REMOTE_ADDR": address})
    assert refused.status_code == 400
    assert "Foundry" not in refused.text


@pytest.mark.parametrize("address", ["127.0.0.1", "127.0.0.9", "::1", "::ffff:127.0.0.1"])
def test_and_this_machine_is_answered(client, address):
    assert client.get("/healthz", environ_overrides={"REMOTE_ADDR": address}).status_code == 200


def test_a_feature_marks_what_is_public():
    app, pages = Flask(__name__), Blueprint("briefing", __name__)

    @pages.get("/b/<token>")
    @public
    def page(token: str) -> str:
        return token

    @pages.get("/b/<token>/edit")
    def edit(token: str) -> str:
        return token

    app.register_blueprint(pages)
    assert public_endpoints(app) == {"static", "briefing.page"}
