"""From a workshop to a grant, as an organiser goes: plan it, copy the letter, ask, note the answer, see the rest."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import SENTENCES, low_targets, small_texts

pytestmark = pytest.mark.browser

DECK = "Last light on the deck"
LOW_MAY_BE = f"{SENTENCES}, .about, .note, .name"
"""A name's link is as large as its line of the list; links of a sentence are as high as its line."""
ADDRESSES = (
    "/deadlines",
    "/enquiries",
    "/enquiries/1",
    "/enquiries/2",
    "/enquiries/2/steps/new?state=granted",
    "/enquiries/new",
    "/enquiries/new?workshop=2&area=1",
    "/enquiries/1/edit",
    "/papers",
    "/papers/1/edit",
)


def question(page: Page, what: str):
    return page.locator(".questions li", has_text=DECK).filter(has_text=re.compile(what, re.IGNORECASE))


def test_a_question_is_asked_granted_and_due_no_more(page, context):
    page.goto("/deadlines")
    expect(question(page, "paid teaching")).to_have_count(1)
    question(page, "paid teaching").get_by_role("link", name=DECK, exact=True).click()
    page.locator("#activity-teaching").get_by_role("link", name="Plan an enquiry").click()
    expect(page.get_by_label("To whom")).to_have_value("Hall Deck parking company")
    expect(page.get_by_label("paid teaching")).to_be_checked()
    page.get_by_role("button", name="Plan this enquiry").click()

    expect(page.locator(".answer")).to_contain_text("Planned, not sent yet")
    expect(page.get_by_label("Text of the letter")).to_have_value(re.compile("Dear Hall Deck parking company"))
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Copy the text").click()
    expect(page.get_by_role("button", name="Copied")).to_be_visible()
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied.strip() == page.get_by_label("Text of the letter").input_value().strip()

    page.get_by_role("button", name="Asked today").click()
    expect(page.locator(".answer")).to_contain_text("Sent today, no answer yet")
    enquiry = page.url
    page.goto("/deadlines")
    expect(page.locator(".questions").first).to_be_visible()
    expect(question(page, "paid teaching")).to_have_count(0)

    page.goto(enquiry)
    page.get_by_role("link", name="It was granted").click()
    page.get_by_label("Reference").fill("HD 44")
    page.get_by_label("Note").fill("by e-mail")
    page.get_by_role("button", name="Keep as granted").click()
    expect(page.locator(".answer")).to_contain_text("Granted, reference HD 44")
    expect(page.locator(".history")).to_contain_text("by e-mail")
    page.get_by_role("link", name=DECK, exact=True).click()
    expect(page.locator("#activity-teaching .finding-answer").first).to_contain_text("Granted")
    expect(page.locator("#activity-teaching")).to_contain_text("HD 44")

    page.goto(enquiry)
    page.get_by_role("button", name="Take the last step back").click()
    expect(page.locator(".answer")).to_contain_text("no answer yet")
    page.get_by_role("link", name="Change it").click()
    page.get_by_role("button", name="Delete this enquiry").click()
    expect(page.get_by_role("status")).to_contain_text("is deleted")
    page.goto("/deadlines")
    expect(question(page, "paid teaching")).to_have_count(1)


def test_a_file_comes_with_an_answer_and_goes(page, tmp_path):
    paper = tmp_path / "Permit H 17.pdf"
    paper.write_bytes(b"%PDF-1.4\n1 0 obj<<>>endobj\nxref\n0 1\ntrailer<<>>\nstartxref\n9\n%%EOF\n")
    page.goto("/enquiries/1")
    page.get_by_label("Their letter, the permit").set_input_files(paper)
    page.get_by_role("button", name="Keep the file").click()
    expect(page.get_by_role("status")).to_contain_text("Permit H 17.pdf is kept")
    with page.expect_download() as download:
        page.get_by_role("link", name="Permit H 17.pdf").click()
    assert download.value.path().read_bytes() == paper.read_bytes()
    page.locator(".files summary").click()
    page.get_by_role("button", name="Delete it for good").click()
    expect(page.get_by_role("link", name="Permit H 17.pdf")).to_have_count(0)


def test_without_script_the_letter_is_marked_and_sent_all_the_same(browser, base_url, watch):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto("/enquiries/2")
    expect(page.get_by_label("Text of the letter")).to_be_visible()
    expect(page.get_by_role("button", name="Copy the text")).to_have_count(0)
    expect(page.get_by_role("link", name="Open in a mail program")).to_have_attribute("href", re.compile("^mailto:"))
    context.close()


@pytest.mark.parametrize("address", ADDRESSES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    assert_sound(page)
    assert small_texts(page) == []
    assert low_targets(page, LOW_MAY_BE) == []
