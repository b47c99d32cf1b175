"""The organiser's links: made, shown again, given a last day, replaced for good."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from models.exchange.qr import qr_svg
from models.planning.briefing.shares import links_page
from models.store import rules
from models.store.shares import shares
from models.workshop.briefing import READERS
from tests.webapp.conftest import NOW
from tests.webapp.filled import form_of


@pytest.fixture
def bare(store, evening) -> int:
    """The same before any link was made."""
    with store.writing() as s:
        s.execute(shares.delete())
    return evening


def links_of(app, workshop_id):
    store = app.extensions["kerbstand"]
    return {each.reader: each for each in links_page(store, app.config["SECRET_KEY"], workshop_id, NOW).links}


def page_of(client, workshop_id) -> str:
    return client.get(f"/workshops/{workshop_id}/briefing/links").text


def test_at_first_there_is_none_and_a_press_makes_it(app, client, bare):
    page = page_of(client, bare)
    assert "No link works yet" in page
    assert page.count("No link yet: nobody can read it without you.") == 3
    sent = client.send(f"/workshops/{bare}/briefing/links", {"reader": "model"})
    assert (sent.status_code, sent.headers["Location"]) == (303, f"/workshops/{bare}/briefing#links-head")
    assert {reader for reader, link in links_of(app, bare).items() if link.token} == {"model"}


def test_one_press_makes_all_that_are_missing(app, client, bare):
    client.send(f"/workshops/{bare}/briefing/links", {"reader": "model"})
    before = links_of(app, bare)["model"]
    client.send(f"/workshops/{bare}/briefing/links", {})
    assert all(link.token for link in links_of(app, bare).values())
    assert links_of(app, bare)["model"] == before
    assert "3 of 3 links work" in page_of(client, bare)


@pytest.mark.parametrize("path", ["/workshops/{}/briefing/links", "/workshops/{}/briefing"])
def test_each_stands_there_to_be_copied_with_its_code(client, evening, tokens, path):
    page = client.get(path.format(evening)).text
    for reader in READERS:
        full = f"http://localhost/b/{tokens[reader]}"
        assert re.search(rf'<input id="link-{reader}"[^>]* readonly value="{full}"', page)
        assert qr_svg(full, f"QR code of the link for {reader}s") in page
    assert "lead to this machine alone" in page
    assert "works until" in page.lower()


def test_it_is_warned_of_an_address_that_only_this_machine_knows(app, client, evening, tokens):
    app.config["ALLOWED_HOSTS"] = (*app.config["ALLOWED_HOSTS"], "plans.example")
    page = client.get(f"/workshops/{evening}/briefing/links", headers={"Host": "plans.example:8443"}).text
    assert f"http://plans.example:8443/b/{tokens['model']}" in page
    assert "this machine alone" not in page
    for host in ("127.0.0.1:8430", "[::1]", "[::1]:8430", "LOCALHOST"):
        page = client.get(f"/workshops/{evening}/briefing/links", headers={"Host": host}).text
        assert "this machine alone" in page, host


def test_a_new_link_takes_the_place_of_the_old(app, client, evening, tokens):
    action = f"/workshops/{evening}/briefing/links/helper/renewal"
    form = form_of(page_of(client, evening), action)
    assert client.send(action, form).status_code == 303
    fresh = links_of(app, evening)["helper"].token
    assert client.get(f"/b/{tokens['helper']}").status_code == 404
    assert client.get(f"/b/{fresh}").status_code == 200
    again = client.send(action, form)
    assert again.status_code == 409
    assert links_of(app, evening)["helper"].token == fresh


def test_its_last_day_is_typed_and_shown(app, client, evening, tokens):
    action = f"/workshops/{evening}/briefing/links/model/end"
    form = form_of(page_of(client, evening), action)
    assert client.send(action, form | {"ends": "20 Oct"}).status_code == 303
    page = page_of(client, evening)
    assert "Works until the end of Tuesday 20 October 2026" in page
    assert form_of(page, action)["ends"] == "2026-10-20"
    assert client.send(action, form_of(page, action) | {"ends": "16 Oct 2026"}).status_code == 303
    page = page_of(client, evening)
    assert "This link works no more: it was good until the end of Friday 16 October 2026" in page
    assert tokens["model"] not in page
    assert client.get(f"/b/{tokens['model']}").status_code == 404


@pytest.mark.parametrize("typed", ["some day", "31.2.", '"><b>x', "2099-01-01"])
def test_a_bad_day_is_said_beside_its_field_and_stays_there(app, client, evening, typed):
    before = links_of(app, evening)
    action = f"/workshops/{evening}/briefing/links/model/end"
    refused = client.send(action, form_of(page_of(client, evening), action) | {"ends": typed})
    assert refused.status_code == 422
    assert form_of(refused.text, action)["ends"] == typed
    assert refused.text.count('aria-invalid="true"') == 1
    assert 'id="link-model-wrong"' in refused.text
    assert "<b>x" not in refused.text
    assert links_of(app, evening) == before


@pytest.mark.parametrize(("form", "status"), [({}, 422), ({"version": "x"}, 422), ({"version": "7"}, 409)])
@pytest.mark.parametrize("what", ["end", "renewal"])
def test_a_form_of_another_version_changes_nothing(app, client, evening, what, form, status):
    before = links_of(app, evening)
    sent = client.send(f"/workshops/{evening}/briefing/links/model/{what}", form)
    assert sent.status_code == status
    assert links_of(app, evening) == before


@pytest.mark.parametrize("path", ["/workshops/999/briefing/links", "/workshops/999/briefing/links/model/renewal"])
def test_of_no_workshop_there_are_none(client, path):
    if path.endswith("links"):
        assert client.get(path).status_code == 404
    assert client.send(path, {"version": "1"}).status_code == 404


def test_for_nobody_else(client, bare):
    assert client.send(f"/workshops/{bare}/briefing/links", {"reader": "guard"}).status_code == 422
    assert client.send(f"/workshops/{bare}/briefing/links/model/renewal", {"version": "1"}).status_code == 404


def test_its_json_says_the_same(client, evening, tokens):
    answer = client.get(f"/workshops/{evening}/briefing/links.json").json
    assert [link["token"] for link in answer["links"]] == list(tokens.values())
    assert [link["over"] for link in answer["links"]] == [False, False, False]


def test_long_after_the_workshop_it_is_said_until_when_one_made_now_works(app, client, store, bare):
    with store.writing() as s:
        kept = rules.get_workshop(s, bare)
        before = timedelta(days=40)
        moved = replace(kept, starts=kept.starts - before, ends=kept.ends - before)
        rules.change_workshop(s, bare, kept.version, moved)
    assert page_of(client, bare).count("The workshop is over: one made now works until the end of Saturday 31 Oct") == 3
    client.send(f"/workshops/{bare}/briefing/links", {"reader": "model"})
    link = links_of(app, bare)["model"]
    assert client.get(f"/b/{link.token}").status_code == 200
    assert "Works until the end of Saturday 31 Oct" in page_of(client, bare)
