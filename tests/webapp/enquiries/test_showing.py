"""The list of enquiries and the page of one: open ones first with their age, the letter, the JSON twins."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest

from models.rules.papers import PaperDraft
from models.store import rules as kept
from models.store.settings import put_setting
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.webapp.enquiries.conftest import ASKED, ENQUIRY, GRANTED, WORKSHOP, keep
from tests.webapp.rules.test_findings import seen


def letter(client, number=1):
    """What stands in the letter's field."""
    page = client.get(f"/enquiries/{number}").text
    return unescape(re.search(r'<textarea id="letter"[^>]*>(.*?)</textarea>', page, re.DOTALL)[1])


def test_nothing_asked_yet(client):
    page = client.get("/enquiries")
    assert page.status_code == 200
    assert "Nothing has been asked of anybody yet." in page.text
    assert "An enquiry is a question to whoever decides" in page.text
    assert client.get("/enquiries.json").json["groups"] == []


def test_open_ones_come_first_with_their_age(client, streets):
    for draft in (
        GRANTED,
        replace(GRANTED, state="refused"),
        ENQUIRY,
        replace(ASKED, sent_on=date(2026, 10, 12)),
        ASKED,
    ):
        keep(streets, draft)
    twin = client.get("/enquiries.json").json
    assert twin["answer"] == "1 planned and not sent; 2 wait for an answer, 1 of them long enough to ask again."
    assert [group["state"] for group in twin["groups"]] == ["planned", "asked", "granted", "refused"]
    assert [(row["id"], row["age"], row["remind"]) for row in twin["groups"][1]["rows"]] == [
        (5, "sent 16 days ago, no answer yet", True),
        (4, "sent 5 days ago, no answer yet", False),
    ]
    page = seen(client.get("/enquiries").text)
    assert (
        page.index("not sent yet") < page.index("sent 16 days ago, no answer yet: ask again") < page.index("answered")
    )
    assert "Old streets" in page
    assert "for Evening light" in page
    assert STANDING_NOTE in page


def test_closed_ones_are_shown_in_part_and_by_the_page(client, streets):
    with streets.writing() as s:
        for number in range(53):
            kept.add_enquiry(s, replace(GRANTED, reference=f"H {number}"))
    first = client.get("/enquiries")
    assert "33 more that are granted" in first.text
    twin = client.get("/enquiries.json?state=granted&page=2").json
    assert (twin["total"], twin["pages"], len(twin["groups"][0]["rows"])) == (53, 2, 3)
    assert "page 2 of 2" in client.get("/enquiries?state=granted&page=2").text


@pytest.mark.parametrize("address", ["state=allowed", "state=granted&page=9", "page=2"])
def test_a_list_that_is_not_there_is_refused(client, streets, address):
    assert client.get(f"/enquiries?{address}").status_code == 422
    assert client.get(f"/enquiries.json?{address}").json["field"] in ("state", "page")


def test_the_twin_says_the_same_as_the_page(client, streets):
    keep(streets, GRANTED)
    twin = client.get("/enquiries/1.json").json
    page = seen(client.get("/enquiries/1").text)
    assert twin["answer"] in page
    assert twin["enquiry"]["from_time"] == "17:00:00"
    for fact in (*twin["named"], *twin["back"]):
        assert fact["text"] in page
    assert twin["standing_note"] == STANDING_NOTE
    assert twin["letter"] is None


def test_what_a_grant_does_not_name_is_said(client, streets):
    keep(streets, replace(GRANTED, people=None, from_time=None, to_time=None))
    page = seen(client.get("/enquiries/1").text)
    assert page.count("not named, so none of it is covered") == 2


def test_the_letter_says_what_is_known_and_gaps_for_the_rest(client, planned):
    text = letter(client)
    assert "Dear Highways office," in text
    assert "a group of 9 people and paid teaching" in text
    assert "When: Saturday 31 October 2026, 17:00 to 18:30 CET, from setting up to packed up." in text
    assert "Width left for walkers beside us: 1.8 m." in text
    assert "Foundry Lane, Old streets" in text
    for gap in ("[your name]", "[how to reach you]", "[insurer, sum and number]"):
        assert gap in text
    page = seen(client.get("/enquiries/1").text)
    assert "To be filled in before you send it: [your name], [how to reach you], [insurer, sum and number]." in page


def test_the_letter_takes_the_organiser_and_an_insurance_that_is_valid_that_day(client, planned, streets):
    with streets.writing() as s:
        put_setting(s, "organiser", "Ana Verhoeven")
        put_setting(s, "organiser_contact", "ana@example.org")
        for title, ends in (("Old liability", date(2026, 10, 30)), ("Liability", date(2026, 12, 31))):
            kept.add_paper(s, PaperDraft(kind="insurance", title=title, insured_sum="2 million euro", valid_to=ends))
    text = letter(client)
    assert "Ana Verhoeven" in text
    assert "ana@example.org" in text
    assert "Insurance: Liability, 2 million euro, valid to Thursday 31 December 2026." in text
    assert "Old liability" not in text
    assert "teaching" not in text.partition("Insurance:")[2].partition("\n")[0]


@pytest.mark.parametrize(
    "paper",
    [
        PaperDraft(kind="insurance", title="No last day"),
        PaperDraft(kind="insurance", title="Ends before", valid_to=date(2026, 10, 30)),
        PaperDraft(kind="insurance", title="Begins after", valid_from=date(2026, 11, 1), valid_to=date(2027, 1, 1)),
        PaperDraft(kind="other", title="Not insurance", valid_to=date(2027, 1, 1)),
    ],
)
def test_the_letter_never_guesses_an_insurance(client, planned, streets, paper):
    with streets.writing() as s:
        kept.add_paper(s, paper)
    assert "Insurance: [insurer, sum and number]." in letter(client)


def test_the_letter_of_an_enquiry_without_a_workshop_guesses_nothing(client, streets):
    bare = {
        "workshop_id": None,
        "first_day": None,
        "last_day": None,
        "from_time": None,
        "to_time": None,
        "people": None,
    }
    keep(streets, replace(ENQUIRY, activities=(), **bare))
    text = letter(client)
    for gap in ("[day]", "[from]", "[to]", "[time zone]", "[how many people]", "[what you ask for]", "[width"):
        assert gap in text
    assert "Foundry Lane" not in text


def test_the_mail_program_gets_the_same_text(client, planned):
    page = client.get("/enquiries/1").text
    link = unescape(re.search(r'href="(mailto:[^"]+)"', page)[1])
    parts = urlsplit(link)
    assert parts.path == "permits@streets.example"
    assert parse_qs(parts.query)["body"][0].replace("\r\n", "\n").strip() == letter(client).strip()


@pytest.mark.parametrize(
    ("contact", "path"),
    [
        ("", ""),
        ("ring 555 0101", ""),
        ("a@b.example?bcc=evil@evil.example&body=x", "a@b.example"),
        ("desk <office@town.example>", "office@town.example"),
    ],
)
def test_a_contact_becomes_one_address_at_most(client, streets, contact, path):
    keep(streets, replace(ENQUIRY, contact=contact))
    link = unescape(re.search(r'href="(mailto:[^"]+)"', client.get("/enquiries/1").text)[1])
    parts = urlsplit(link)
    assert parts.path == path
    assert parse_qs(parts.query).keys() == {"subject", "body"}


def test_what_the_workshop_became_since_is_told(client, planned, streets):
    with streets.writing() as s:
        moved = {"starts": WORKSHOP.starts + timedelta(days=1), "ends": WORKSHOP.ends + timedelta(days=1)}
        kept.change_workshop(s, 1, 1, replace(WORKSHOP, **moved))
    page = seen(client.get("/enquiries/1").text)
    assert "Not asked for of Evening light as it is planned now:" in page
    assert "it covers Saturday 31 October 2026, you come on Sunday 1 November 2026" in page


def test_its_place_and_workshop_may_be_gone(client, planned, streets):
    with streets.writing() as s:
        kept.delete_workshop(s, 1, 1)
        kept.delete_area(s, 1, 1)
    page = client.get("/enquiries/1")
    assert page.status_code == 200
    assert "Old streets" in page.text
    assert 'href="/workshops/1"' not in page.text
    assert "Not asked for" not in seen(page.text)
    assert client.get("/enquiries").status_code == 200
    assert client.get("/enquiries/1/edit").status_code == 200


UNASKED = "Comes along and is not asked for of Old streets:"


def bring_stands(store):
    with store.writing() as s:
        kept.change_workshop(s, 1, 1, replace(WORKSHOP, doing=replace(WORKSHOP.doing, stand_ground=2)))


@pytest.mark.parametrize("draft", [ENQUIRY, ASKED])
def test_what_comes_along_unasked_is_told_above_the_letter_that_admits_it(client, streets, draft):
    bring_stands(streets)
    keep(streets, draft)
    page = seen(client.get("/enquiries/1").text)
    said = page[page.index(UNASKED) : page.index("The letter says all")]
    assert "2 stands on the ground: recorded as not permitted" in said
    assert "1 hand-held flash: not checked: ask" in said
    assert "hand-held stand" not in said
    assert page.index(UNASKED) < page.index("What we bring: 2 stands on the ground")
    assert forbidden_in(page) == []
    assert client.get("/enquiries/1.json").json["unasked"][0] == "2 stands on the ground: recorded as not permitted"


def test_what_is_asked_for_here_or_in_another_question_is_not_told_as_left_out(client, streets):
    bring_stands(streets)
    keep(streets, replace(ENQUIRY, activities=("stand_ground", "group", "teaching")))
    keep(streets, replace(ENQUIRY, activities=("flash_held",)))
    keep(streets, replace(ASKED, activities=("models",)))
    assert UNASKED not in seen(client.get("/enquiries/1").text)
    assert client.get("/enquiries/2.json").json["unasked"] == []


def test_a_grant_or_a_question_without_a_workshop_leaves_nothing_unasked(client, streets):
    keep(streets, GRANTED)
    keep(streets, replace(ENQUIRY, workshop_id=None))
    for number in (1, 2):
        assert client.get(f"/enquiries/{number}.json").json["unasked"] == []


@pytest.mark.parametrize(
    ("covers", "line", "warning"),
    [
        (
            {"covers_teaching": False, "covers_models": False},
            "Liability, does not cover teaching and hired models, valid to Thursday 31 December 2026.",
            "Liability: it does not cover teaching and it does not cover hired models.",
        ),
        (
            {"covers_models": True},
            "Liability, covers hired models, valid to Thursday 31 December 2026.",
            "Liability: nobody has looked whether it covers teaching.",
        ),
        (
            {"covers_teaching": True, "covers_models": True},
            "Liability, covers teaching and hired models, valid to Thursday 31 December 2026.",
            "",
        ),
    ],
)
def test_an_insurance_that_does_not_cover_what_is_asked_is_told_above_the_letter(
    client, planned, streets, covers, line, warning
):
    with streets.writing() as s:
        kept.add_paper(s, PaperDraft(kind="insurance", title="Liability", valid_to=date(2026, 12, 31), **covers))
    assert f"Insurance: {line}" in letter(client)
    page = seen(client.get("/enquiries/1").text)
    said = "Look at the insurance that the letter names."
    assert (f"{said} {warning}" in page) if warning else (said not in page)
    assert forbidden_in(page) == []
    assert client.get("/enquiries/1.json").json["letter"]["insurance_lacks"] == warning.removesuffix(".")


def test_what_nobody_teaches_needs_no_cover(client, streets):
    with streets.writing() as s:
        kept.add_paper(s, PaperDraft(kind="insurance", title="Liability", valid_to=date(2026, 12, 31)))
    keep(streets, replace(ENQUIRY, activities=("group",), workshop_id=None))
    assert client.get("/enquiries/1.json").json["letter"]["insurance_lacks"] == ""


def test_the_insurance_that_covers_what_is_asked_goes_into_the_letter_before_one_that_runs_longer(
    client, planned, streets
):
    with streets.writing() as s:
        for title, ends, covers in (("Long", 2028, False), ("Fits", 2027, True), ("Longer", 2029, None)):
            known = {"covers_teaching": covers, "covers_models": covers}
            kept.add_paper(s, PaperDraft(kind="insurance", title=title, valid_to=date(ends, 1, 1), **known))
    assert "Insurance: Fits, covers teaching and hired models" in letter(client)


@pytest.mark.parametrize(
    ("draft", "advice"),
    [
        (ENQUIRY, "Withdraw the enquiry, or bring the workshop back"),
        (ASKED, "Withdraw the enquiry and tell them so, or bring the workshop back"),
        (GRANTED, "Bring the workshop back"),
    ],
)
def test_a_workshop_that_was_deleted_is_told_and_can_be_brought_back(client, streets, draft, advice):
    keep(streets, draft)
    assert "was deleted" not in client.get("/enquiries/1").text
    with streets.writing() as s:
        kept.delete_workshop(s, 1, 1)
    page = client.get("/enquiries/1").text
    assert f"Evening light, which it is for, was deleted. {advice}" in seen(page)
    assert "Evening light, deleted," in seen(page)
    assert client.get("/enquiries/1.json").json["workshop_gone"] is True
    assert client.send("/workshops/1/restoration", {}).status_code == 303
    assert "was deleted" not in client.get("/enquiries/1").text


def test_every_time_of_day_is_told_with_its_zone(client, streets):
    keep(streets, GRANTED)
    keep(streets, replace(GRANTED, first_day=None, last_day=None))
    twin = client.get("/enquiries/1.json").json
    assert twin["named"][2]["text"] == "17:00 to 18:30 CET"
    assert client.get("/enquiries/2.json").json["named"][2]["text"] == "17:00 to 18:30"
    assert re.fullmatch(r".* 2026, \d\d:\d\d CES?T", twin["history"][0]["when"])
