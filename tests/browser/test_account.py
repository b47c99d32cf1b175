"""Sign-in as an organiser meets it: the terminal's link, a passphrase, the list of browsers, out and in again."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from flask import Flask
from playwright.sync_api import Page, expect

from models.planning.account import signing_in
from models.store.account import account, sign_ins
from tests.browser.conftest import NOW
from tests.browser.looking import SENTENCES, low_targets, small_texts

pytestmark = pytest.mark.browser
FAST = "scrypt:128:1:1"
GOOD = "four plain words here"


@pytest.fixture
def guarded(town: Flask) -> Iterator[Flask]:
    """The town with sign-in on while the test lasts."""
    before = {name: town.config[name] for name in ("SIGN_IN", "PASSPHRASE_METHOD")}
    town.config.update(SIGN_IN=True, PASSPHRASE_METHOD=FAST)
    yield town
    town.config.update(before)
    with town.extensions["kerbstand"].writing() as s:
        s.execute(account.delete())
        s.execute(sign_ins.delete())


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def test_from_the_terminals_link_to_signing_out_and_in_again(page, watch, guarded, assert_sound):
    watch.expected.extend(("422", "410"))
    store = guarded.extensions["kerbstand"]
    link = f"/sign-in/{signing_in.new_link(store, NOW)}"

    page.goto(link)
    for typed in ("short", GOOD):
        page.get_by_label("New passphrase").fill(typed)
        page.get_by_label("Once more").fill(typed)
        if typed == GOOD:
            assert_sound(page)
        press(page, "Keep it and sign in")
        expect(
            page.get_by_text("Take at least 12" if typed == "short" else "The passphrase is kept").first
        ).to_be_visible()
    page.goto(link)
    expect(page.get_by_role("heading", name="This link is over")).to_be_visible()
    assert_sound(page)

    signing_in.sign_in(store, GOOD, user_agent="(iPhone) Safari/", now=NOW, method=FAST)
    page.goto("/account")
    assert_sound(page)
    assert (low_targets(page, SENTENCES), small_texts(page)) == ([], [])
    page.get_by_role("button", name="Sign it out Safari on an iPhone").click()
    expect(page.get_by_role("status")).to_have_text("That browser is signed out.")
    press(page, "Sign out here")

    page.goto("/kit")
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    for typed in ("not this one", GOOD):
        page.get_by_label("Passphrase").fill(typed)
        page.keyboard.press("Enter")
        if typed != GOOD:
            expect(page.get_by_text("That is not the passphrase.")).to_be_visible()
            assert_sound(page)
            assert (low_targets(page, SENTENCES), page.locator("script").count()) == ([], 0)
    expect(page).to_have_url(re.compile(r"/kit$"))
