"""What every answer carries and every change must bring."""

from __future__ import annotations

import stat

import pytest

from webapp.config import FORM_BYTES, kept_secret

NOWHERE = ("default-src", "base-uri", "frame-ancestors")
OURS_ALONE = ("script-src", "style-src", "connect-src", "font-src", "form-action", "worker-src", "manifest-src")
SAMPLES = {"filename": "css/kerbstand.css", "name": "leaflet.js", "kind_name": "flashes"}
"""Of words in an address; a number is 1."""


def routes(app, method):
    """Every address that takes this method, with sample values in it."""
    builder = app.url_map.bind("localhost")
    for rule in app.url_map.iter_rules():
        if method in rule.methods:
            values = {name: SAMPLES.get(name, 1) for name in rule.arguments}
            yield builder.build(rule.endpoint, values, method=method)


def assert_strict(response, where):
    """Nothing unless named; what is named comes from this site alone, pictures also from the page itself."""
    sources = dict(part.strip().split(" ", 1) for part in response.headers["Content-Security-Policy"].split(";"))
    assert {sources.pop(name) for name in NOWHERE} == {"'none'"}, where
    assert sources.pop("img-src") == "'self' data:", where
    assert sources == dict.fromkeys(OURS_ALONE, "'self'"), where


def test_every_address_carries_the_headers(app, client):
    paths = list(routes(app, "GET"))
    assert {"/", "/settings", "/healthz", "/spots/new", "/map/frame.js", "/vendor/leaflet/leaflet.js"} <= set(paths)
    for path in [*paths, "/nowhere", "/nowhere.json", "/spots/999/edit"]:
        response = client.get(path)
        assert response.status_code < 500, path
        assert_strict(response, path)
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        told = "no-referrer" if path.startswith("/b/") else "strict-origin-when-cross-origin"
        assert response.headers["Referrer-Policy"] == told
        assert "camera=()" in response.headers["Permissions-Policy"]
        assert response.headers["X-Frame-Options"] == "DENY"


def test_pages_hold_nothing_that_the_policy_would_stop(app, client):
    for path in routes(app, "GET"):
        response = client.get(path)
        if response.mimetype == "text/html":
            assert " style=" not in response.text, path
            assert "<style" not in response.text, path
            assert " onclick=" not in response.text, path
            for script in response.text.split("<script")[1:]:
                assert "src=" in script.split(">")[0], path


def test_every_change_needs_the_token(app, client):
    paths = list(routes(app, "POST"))
    assert len(paths) >= 7
    for path in paths:
        refused = client.post(path, data={"name": "x", "version": "1"})
        assert refused.status_code == 403, path
        assert "Nothing was changed" in refused.text


def test_a_token_of_another_session_is_refused(app):
    stolen = app.test_client().token()
    refused = app.test_client().post("/settings", data={"csrf_token": stolen, "turbidity": "4"})
    assert refused.status_code == 403


@pytest.mark.parametrize(
    "host",
    ["evil.example", "127.0.0.1.evil.example", "192.168.1.4:8430", "localhost.evil", "a_b", "[::2]", "", "localhost:x"],
)
def test_a_stranger_host_is_refused(client, host):
    refused = client.get("/", headers={"Host": host})
    assert refused.status_code == 400
    assert "Not under this name" in refused.text
    assert "Set-Cookie" not in refused.headers
    assert_strict(refused, host)


@pytest.mark.parametrize("host", ["127.0.0.1:8430", "localhost:99", "[::1]:8430", "LOCALHOST"])
def test_this_machine_is_answered(client, host):
    assert client.get("/healthz", headers={"Host": host}).status_code == 200


def test_a_large_form_is_refused(client):
    token = client.token()
    refused = client.post("/spots", data={"csrf_token": token, "name": "x" * (FORM_BYTES + 1)})
    assert refused.status_code == 413
    assert "Nothing was saved" in refused.text
    assert len(client.get("/spots.json").json["rows"]) == 3


def test_the_session_cookie_stays_on_this_site(client):
    cookie = client.get("/settings").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


def test_the_secret_is_made_once_and_readable_by_its_owner_only(tmp_path):
    secret = kept_secret(tmp_path)
    assert len(secret) == 64
    assert kept_secret(tmp_path) == secret
    assert stat.S_IMODE((tmp_path / "secret-key").stat().st_mode) == 0o600


@pytest.mark.parametrize("back", ["https://evil.example/", "//evil.example/", "/\\evil.example", "javascript:alert(1)"])
def test_the_theme_never_sends_a_reader_elsewhere(client, back):
    assert client.send("/theme", {"theme": "dark", "back": back}).headers["Location"] == "/"


def test_the_theme_is_kept_and_leads_back(client):
    response = client.send("/theme", {"theme": "dark", "back": "/settings?on=2026-10-17"})
    assert (response.status_code, response.headers["Location"]) == (303, "/settings?on=2026-10-17")
    assert 'data-theme="dark"' in client.get("/settings").text


def test_a_theme_nobody_offered_is_not_kept(client):
    assert "theme=" not in client.send("/theme", {"theme": '"><b>', "back": "/"}).headers.get("Set-Cookie", "")
