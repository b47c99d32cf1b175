"""Papers: what each lacks for the workshops to come, kept as typed, clash, deletion with its way back."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from models.rules.footprint import Doing
from models.rules.papers import PaperDraft
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.webapp.conftest import HOSTILE
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen

STARTS = datetime(2026, 10, 31, 16, 0, tzinfo=UTC)
INSURANCE = PaperDraft(
    kind="insurance",
    title="Public liability",
    reference="PL 55",
    insured_sum="2.5 million euro",
    valid_from=date(2026, 1, 1),
    valid_to=date(2026, 11, 15),
    covers_teaching=True,
)
RELEASES = PaperDraft(kind="releases", title="Signed in autumn", count=14, where="blue folder")


@pytest.fixture
def workshops(store):
    """Three weeks apart, the last called off."""
    with store.writing() as s:
        for number in range(3):
            starts = STARTS + timedelta(weeks=3 * number)
            kept.add_workshop(
                s,
                WorkshopDraft(
                    title=f"Evening {number + 1}",
                    spot_id=1,
                    starts=starts,
                    ends=starts + timedelta(hours=1),
                    doing=Doing(),
                    called_off=number == 2,
                ),
            )
    return store


def keep(store, *papers):
    with store.writing() as s:
        return [kept.add_paper(s, paper) for paper in papers]


def papers(store):
    with store.reading() as s:
        return kept.list_papers(s)


def edited(client, number=1):
    return form_of(client.get(f"/papers/{number}/edit").text, f"/papers/{number}")


def test_an_empty_page_says_what_belongs_there(client):
    page = client.get("/papers")
    assert "No paper is noted yet." in page.text
    assert "What a guard or an officer may ask to see belongs here" in page.text
    assert STANDING_NOTE in seen(page.text)


def test_insurance_that_is_missing_is_said_first(client, workshops):
    twin = client.get("/papers.json").json
    assert twin["answer"] == "No insurance is noted for 2 workshops to come."
    assert (twin["missing"]["workshops"], twin["missing"]["first_id"]) == (2, 1)
    page = seen(client.get("/papers").text)
    assert "No insurance is noted: Evening 1, Saturday 31 October 2026 and 1 more" in page


def test_what_lapses_before_which_workshop(client, workshops):
    keep(workshops, INSURANCE, RELEASES)
    twin = client.get("/papers.json").json
    row, releases = (group["rows"][0] for group in twin["groups"])
    assert [(lack["words"], lack["workshops"], lack["first_id"]) for lack in row["lacks"]] == [
        ("Nobody has looked whether it covers hired models", 2, 1),
        ("It ends on Sunday 15 November 2026, before you have packed up", 1, 2),
    ]
    assert releases["lacks"] == []
    assert twin["answer"] == "2 papers are noted; 1 leaves something open for a workshop to come."
    page = seen(client.get("/papers").text)
    assert forbidden_in(page) == []
    assert "Sunday 15 November 2026, in 29 days" in page
    assert "14, counted; the releases themselves are not kept here" in page


def test_one_that_lacks_nothing_says_so(client, workshops):
    keep(workshops, replace(INSURANCE, valid_to=date(2027, 1, 1), covers_models=True))
    assert "1 paper is noted; none ends before the 2 workshops to come." in seen(client.get("/papers").text)


def test_one_that_has_ended_says_so(client, store):
    keep(store, replace(INSURANCE, valid_to=date(2026, 10, 16)))
    page = seen(client.get("/papers").text)
    assert "Public liability, ended" in page
    assert "Friday 16 October 2026, 1 day over" in page


def test_what_nobody_noted_is_not_blank(client, store):
    keep(store, PaperDraft(kind="insurance", title="Bare"))
    page = seen(client.get("/papers").text)
    assert page.count("not noted") == 2
    assert page.count("nobody looked") == 2


def test_it_is_kept_as_typed(client, store):
    form = form_of(client.get("/papers/new").text, "/papers")
    assert form["kind"] == "insurance"
    typed = {"title": "Liability", "valid_to": "31.12.", "covers_teaching": "no", "insured_sum": "2 million euro"}
    assert client.send("/papers", form | typed).status_code == 303
    (paper,) = papers(store)
    assert (paper.title, paper.valid_to, paper.covers_teaching, paper.covers_models) == (
        "Liability",
        date(2026, 12, 31),
        False,
        None,
    )


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("title", " ", "give the paper a title"),
        ("kind", "passport", "is not known"),
        ("valid_from", "one day", "is not a date"),
        ("valid_to", "2025-01-01", "is before"),
        ("covers_teaching", "perhaps", "choose yes, no"),
        ("count", "-3", "out of reach"),
        ("count", "99999", "out of reach"),
        ("title", "x" * 999, "999 characters"),
    ],
)
def test_a_bad_field_says_so_and_keeps_what_was_typed(client, store, field, typed, message):
    form = {"kind": "insurance", "title": "Liability", "valid_from": "2026-01-01", "notes": "broker asked"}
    sent = client.send("/papers", form | {field: typed})
    assert sent.status_code == 422
    assert message in seen(sent.text)
    assert f'id="{field}-wrong"' in sent.text
    assert form_of(sent.text, "/papers")["notes"] == "broker asked"
    assert papers(store) == ()


@pytest.mark.parametrize("draft", [INSURANCE, RELEASES, replace(INSURANCE, covers_models=False)])
def test_an_unchanged_form_changes_nothing_but_the_version(client, store, draft):
    (before,) = keep(store, draft)
    assert client.send("/papers/1", edited(client)).status_code == 303
    assert papers(store) == (replace(before, version=2),)


def test_a_clash_keeps_what_was_typed_and_shows_the_other(client, store):
    keep(store, INSURANCE)
    mine = edited(client) | {"insured_sum": "3 million euro"}
    with store.writing() as s:
        kept.change_paper(s, 1, 1, replace(INSURANCE, reference="PL 56"))
    sent = client.send("/papers/1", mine)
    assert sent.status_code == 409
    assert "kept now: PL 56" in seen(sent.text)
    again = form_of(sent.text, "/papers/1")
    assert (again["insured_sum"], again["version"]) == ("3 million euro", "2")
    assert client.send("/papers/1", again).status_code == 303


def test_a_clash_with_a_deletion_loses_nothing_and_offers_it_back(client, store):
    keep(store, INSURANCE)
    mine = edited(client) | {"reference": "PL 57"}
    with store.writing() as s:
        kept.delete_paper(s, 1, 1)
    sent = client.send("/papers/1", mine)
    assert sent.status_code == 409
    assert "Bring it back" in sent.text
    assert form_of(sent.text, "/papers/1")["reference"] == "PL 57"


def test_a_deletion_can_be_undone_on_the_next_page(client, store):
    keep(store, INSURANCE)
    assert client.send("/papers/1/deletion", {"version": "1"}).status_code == 303
    page = client.get("/papers").text
    assert "Public liability is deleted." in page
    assert papers(store) == ()
    assert client.send("/papers/1/restoration", {}).status_code == 303
    assert len(papers(store)) == 1
    assert client.send("/papers/1/deletion", {"version": "1"}).status_code == 409


def test_hostile_words_are_text(client, store):
    keep(store, replace(INSURANCE, title=HOSTILE, reference=HOSTILE, notes=HOSTILE))
    for address in ("/papers", "/papers/1/edit"):
        assert "<img src=x" not in client.get(address).text, address
    client.send("/papers/1/deletion", {"version": "1"})
    assert "<img src=x" not in client.get("/papers").text


@pytest.mark.parametrize("address", ["/papers/9/edit", "/papers/99999999999999/edit"])
def test_a_paper_that_is_not_there(client, address):
    assert client.get(address).status_code == 404
