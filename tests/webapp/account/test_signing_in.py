"""From the terminal's link to a passphrase to a sign-in and out of it."""

from __future__ import annotations

from datetime import timedelta

import pytest

from models.planning.account import signing_in
from models.store.account import account
from tests.webapp.account.conftest import COOKIE, GOOD, OTHER, browser, sign_in
from tests.webapp.conftest import NOW


def cookie_of(response) -> str:
    return next(line for line in response.headers.getlist("Set-Cookie") if line.startswith(COOKIE))


def test_a_link_of_the_terminal_chooses_the_passphrase_and_signs_in(guarded):
    client = guarded.test_client()
    link = f"/sign-in/{signing_in.new_link(guarded.extensions['kerbstand'], NOW)}"
    page = client.get(link)
    assert page.status_code == 200
    assert page.headers["Cache-Control"] == "no-store"
    assert client.get("/spots.json").status_code == 401
    done = client.send(link, {"passphrase": GOOD, "again": GOOD}, link)
    assert (done.status_code, done.headers["Location"]) == (303, "/")
    assert client.get("/spots.json").status_code == 200
    assert client.get(link).status_code == 410
    other = guarded.test_client()
    assert sign_in(other).status_code == 303
    assert other.get("/spots.json").status_code == 200


def test_a_used_old_or_invented_link_says_what_to_do(chosen):
    client, store = chosen.test_client(), chosen.extensions["kerbstand"]
    old = signing_in.new_link(store, NOW - timedelta(hours=1))
    for token in (old, "x", "%00", "a" * 3000):
        page = client.get(f"/sign-in/{token}")
        assert page.status_code == 410
        assert "kerbstand sign-in" in page.text
        form = {"passphrase": OTHER, "again": OTHER}
        assert client.send(f"/sign-in/{token}", form, "/sign-in").status_code == 410
    assert sign_in(client).status_code == 303


def test_a_passphrase_that_will_not_do_is_said_and_never_shown_again(guarded):
    client = guarded.test_client()
    link = f"/sign-in/{signing_in.new_link(guarded.extensions['kerbstand'], NOW)}"
    for typed, again, words in (
        ("short one", "short one", "9 characters. Take at least 12"),
        (GOOD, OTHER, "The two are not the same"),
        ("x" * 100_000, "x" * 100_000, "Take at most 500"),
        ("", "", "Choose a passphrase"),
    ):
        refused = client.send(link, {"passphrase": typed, "again": again}, link)
        assert refused.status_code == 422
        assert words in refused.text
        assert 'aria-invalid="true"' in refused.text
        assert not typed or typed not in refused.text
    assert client.send(link, {"passphrase": GOOD, "again": GOOD}, link).status_code == 303


def test_a_wrong_passphrase_says_so_and_nothing_else(stranger):
    answers = [sign_in(stranger, typed) for typed in ("wrong", "", GOOD + "\0", "x" * 100_000, GOOD[:-1])]
    assert {answer.status_code for answer in answers} == {422}
    for answer in answers:
        assert "That is not the passphrase." in answer.text
        assert answer.text.count("<input") == answers[0].text.count("<input")
    assert COOKIE not in "".join(answers[0].headers.getlist("Set-Cookie"))


def test_where_none_is_chosen_the_answer_is_the_same(chosen):
    store = chosen.extensions["kerbstand"]
    told = [sign_in(chosen.test_client(), "wrong").text]
    with store.writing() as s:
        s.execute(account.delete())
    told.append(sign_in(chosen.test_client(), "wrong").text)
    bare = [[line for line in text.splitlines() if "csrf_token" not in line] for text in told]
    assert bare[0] == bare[1]


def test_the_cookie_is_for_this_site_and_no_script(stranger):
    cookie = cookie_of(sign_in(stranger))
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert "Path=/" in cookie
    assert "Domain" not in cookie
    assert "Secure" not in cookie  # plain http on this machine


def test_over_https_it_is_secure_and_of_this_host_alone(chosen):
    chosen.config.update(HTTPS=True, SESSION_COOKIE_SECURE=True)
    client = chosen.test_client()
    page = client.get("/sign-in", base_url="https://localhost")
    token = page.text.split('name="csrf_token" value="')[1].split('"')[0]
    done = client.post(
        "/sign-in",
        data={"passphrase": GOOD, "csrf_token": token},
        base_url="https://localhost",
        headers={"Referer": "https://localhost/sign-in"},
    )
    cookies = done.headers.getlist("Set-Cookie")
    assert cookies[0].startswith(f"__Host-{COOKIE}=")
    assert all(
        "Secure" in cookie and "HttpOnly" in cookie for cookie in [*cookies, *page.headers.getlist("Set-Cookie")]
    )
    assert client.get("/spots.json", base_url="https://localhost").status_code == 200
    plain = client.get("/sign-in")
    assert plain.status_code == 400
    assert "X-Forwarded-Proto" in plain.text


def test_each_sign_in_has_a_token_of_its_own(chosen):
    client = chosen.test_client()
    planted = "planted by somebody else"
    client.set_cookie(COOKIE, planted)
    first = cookie_of(sign_in(client))
    assert planted not in first
    client.post("/sign-out", data={"csrf_token": client.token("/settings")})
    assert cookie_of(sign_in(client)) != first


def test_signing_in_twice_leaves_one_sign_in(signed_in):
    token = signed_in.token("/settings")
    assert signed_in.post("/sign-in", data={"csrf_token": token, "passphrase": GOOD}).status_code == 303
    assert len(signed_in.get("/account.json").json["rows"]) == 2  # the test's, and that of whoever chose it


def test_signing_out_ends_it_on_the_server_too(signed_in):
    kept = signed_in.get_cookie(COOKIE).value
    out = signed_in.send("/sign-out", {})
    assert (out.status_code, out.headers["Location"]) == (303, "/sign-in")
    assert out.headers["Clear-Site-Data"] == '"cache"'
    assert signed_in.get("/spots.json").status_code == 401
    signed_in.set_cookie(COOKIE, kept)
    assert signed_in.get("/spots.json").status_code == 401


def test_it_leads_on_to_where_the_reader_wanted_to_go(stranger):
    asked = stranger.get("/spots/1?on=2026-10-17&at=16:40")
    page = stranger.get(asked.headers["Location"])
    onward = page.text.split('name="next" value="')[1].split('"')[0].replace("&amp;", "&")
    assert onward == "/spots/1?on=2026-10-17&at=16:40"
    assert sign_in(stranger, onward=onward).headers["Location"] == onward


@pytest.mark.parametrize(
    "onward",
    [
        "https://evil.example/",
        "//evil.example/",
        "/\\evil.example",
        "\\\\evil.example",
        "/\t/evil.example",
        "/\n/evil.example",
        " //evil.example",
        "javascript:alert(1)",
        "http:evil.example",
        "//[",
        "/%0d%0aSet-Cookie:x\r\ny",
        "evil.example",
        "",
    ],
)
def test_and_nowhere_else(stranger, onward):
    assert stranger.get("/sign-in", query_string={"next": onward}).status_code == 200
    assert sign_in(stranger, onward=onward).headers["Location"] == "/"
    assert stranger.get("/sign-in", query_string={"next": onward}).headers["Location"] == "/"


def test_ten_tries_in_ten_minutes_and_no_more(chosen):
    client = chosen.test_client()
    answers = [sign_in(client, "wrong").status_code for _ in range(10)]
    refused = sign_in(client)
    assert set(answers) == {422}
    assert refused.status_code == 429
    assert "Wait ten minutes" in refused.text
    link = f"/sign-in/{signing_in.new_link(chosen.extensions['kerbstand'], NOW)}"
    assert client.send(link, {"passphrase": OTHER, "again": OTHER}, link).status_code == 429
    form = {"csrf_token": client.token("/sign-in"), "passphrase": GOOD}
    elsewhere = client.post("/sign-in", data=form, environ_overrides={"REMOTE_ADDR": "203.0.113.9"})
    assert elsewhere.status_code == 303


def test_a_whole_network_of_ipv6_is_one_reader(chosen):
    chosen.config["RATELIMIT_SIGN_IN"] = "2 per 10 minutes"
    assert tries(chosen, ["2001:db8:1:2::1", "2001:db8:1:2::2", "2001:db8:1:2:3::9"]) == [422, 422, 429]
    assert tries(chosen, ["2001:db8:1:3::1", "::ffff:203.0.113.9", "203.0.113.9", "203.0.113.9"]) == [
        422,
        422,
        422,
        429,
    ]


def test_all_together_have_a_limit_too(chosen):
    chosen.config["RATELIMIT_SIGN_IN_ALL"] = "3 per hour"
    assert tries(chosen, [f"203.0.113.{k}" for k in range(4)]) == [422, 422, 422, 429]


def tries(app, addresses: list[str]) -> list[int]:
    client = app.test_client()
    form = {"csrf_token": client.token("/sign-in"), "passphrase": "wrong"}
    return [
        client.post("/sign-in", data=form, environ_overrides={"REMOTE_ADDR": each}).status_code for each in addresses
    ]


def test_a_sign_in_ends_by_itself(chosen):
    client = browser(chosen)
    chosen.config["CLOCK"] = lambda: NOW + timedelta(days=31)
    assert client.get("/spots.json").status_code == 401


def test_without_sign_in_there_is_no_form(client):
    assert client.get("/sign-in").headers["Location"] == "/"
