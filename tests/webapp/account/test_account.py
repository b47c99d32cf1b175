"""The page of signed-in browsers: listed, ended, and the passphrase changed."""

from __future__ import annotations

import pytest

from tests.webapp.account.conftest import GOOD, OTHER, browser, sign_in

FIREFOX = "Mozilla/5.0 (Windows NT 10.0; rv:130.0) Gecko/20100101 Firefox/130.0"


def rows(client) -> list[dict]:
    return client.get("/account.json").json["rows"]


def test_the_page_and_its_twin_say_the_same(signed_in):
    twin, page = signed_in.get("/account.json").json, signed_in.get("/account").text
    assert twin["answer"] in page
    assert twin["answer"].startswith("This browser has been signed in since 16:40 on 17 October 2026, CEST.")
    assert [row["this"] for row in twin["rows"]].count(True) == 1
    for word in ("hash", "scrypt", "token"):
        assert word not in signed_in.get("/account.json").text


def test_a_browser_is_named_by_what_it_says_of_itself_in_our_words(chosen):
    client = chosen.test_client()
    token = client.token("/sign-in")
    for agent in (FIREFOX, "<script>alert(1)</script>"):
        form = {"csrf_token": token, "passphrase": GOOD}
        assert chosen.test_client().get("/sign-in").status_code == 200
        assert client.post("/sign-in", data=form, headers={"User-Agent": agent}).status_code == 303
        assert "alert(1)" not in client.get("/account").text
    assert "an unknown browser" in {row["browser"] for row in rows(client)}


def test_one_browser_is_signed_out(chosen):
    mine, other = browser(chosen), browser(chosen)
    number = next(row["id"] for row in rows(other) if row["this"])
    assert mine.send(f"/account/sign-ins/{number}/end", {}).status_code == 303
    assert "That browser is signed out." in mine.get("/account").text
    assert other.get("/spots.json").status_code == 401
    assert mine.send(f"/account/sign-ins/{number}/end", {}).status_code == 303
    assert "signed out already" in mine.get("/account").text


def test_ending_ones_own_signs_out(chosen):
    mine = browser(chosen)
    number = next(row["id"] for row in rows(mine) if row["this"])
    assert mine.send(f"/account/sign-ins/{number}/end", {}).headers["Location"] == "/sign-in"
    assert mine.get("/spots.json").status_code == 401


def test_all_others_are_signed_out(chosen):
    mine, *others = (browser(chosen) for _ in range(3))
    assert mine.send("/account/sign-ins/end-others", {}).status_code == 303
    assert "3 browsers are signed out." in mine.get("/account").text
    assert [other.get("/spots.json").status_code for other in others] == [401, 401]
    assert len(rows(mine)) == 1


def test_changing_the_passphrase_ends_every_other_sign_in(chosen):
    mine, other = browser(chosen), browser(chosen)
    before = mine.get_cookie("kerbstand-sign-in").value
    form = {"current": GOOD, "passphrase": OTHER, "again": OTHER}
    assert mine.send("/account/passphrase", form).status_code == 303
    assert mine.get_cookie("kerbstand-sign-in").value != before
    assert "The new passphrase is kept." in mine.get("/account").text
    assert other.get("/spots.json").status_code == 401
    assert sign_in(other).status_code == 422
    assert sign_in(other, OTHER).status_code == 303


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"current": "wrong", "passphrase": OTHER, "again": OTHER}, "That is not the passphrase."),
        ({"current": GOOD, "passphrase": "short", "again": "short"}, "Take at least 12"),
        ({"current": GOOD, "passphrase": OTHER, "again": GOOD}, "The two are not the same"),
        ({}, "That is not the passphrase."),
    ],
)
def test_a_change_that_will_not_do_changes_nothing(chosen, form, words):
    mine, other = browser(chosen), browser(chosen)
    refused = mine.send("/account/passphrase", form)
    assert refused.status_code == 422
    assert words in refused.text
    for typed in form.values():
        assert f'value="{typed}"' not in refused.text
    assert other.get("/spots.json").status_code == 200
    assert sign_in(chosen.test_client()).status_code == 303


def test_changing_is_limited_as_signing_in_is(chosen):
    chosen.config["RATELIMIT_SIGN_IN"] = "4 per 10 minutes"
    mine = browser(chosen)
    form = {"current": "wrong", "passphrase": OTHER, "again": OTHER}
    assert [mine.send("/account/passphrase", form).status_code for _ in range(4)] == [422, 422, 422, 429]


def test_with_sign_in_off_the_page_says_so(client):
    page = client.get("/account")
    assert page.status_code == 200
    assert "Sign-in is off and no passphrase is chosen" in page.text
    assert "kerbstand sign-in" in page.text
    assert "Change the passphrase" not in page.text
    assert 'href="/account"' in client.get("/settings").text
