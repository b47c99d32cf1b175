"""What a link opens: the briefing and nothing else, for everybody who has it and for nobody else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from flask.testing import FlaskClient

import webapp
from models.planning.briefing import opened as planning
from models.planning.briefing.shares import links_page, renew_link, set_end, share_token
from models.planning.briefing.versions import issue, issued_briefing
from models.store import rules
from models.store.shares import shares_of
from models.words.directions import unturned
from models.words.never import forbidden_in
from models.workshop.briefing import READERS, Section
from tests.webapp.account.conftest import FAST
from tests.webapp.conftest import NOW
from tests.webapp.shared_briefing.conftest import NUMBER, PEOPLE
from tests.webapp.shared_briefing.hand_made import HOSTILE, SKETCH, Read, made, plain, words_of
from tests.webapp.test_security import assert_strict
from webapp.shared_briefing import public

STATIC = Path(webapp.__file__).parent / "static"
MOST_BYTES = 150_000
KINDS = ("", ".json", "/file", ".ics", ".pdf", "/keep.js")
ELEMENTS = {
    "html", "head", "meta", "title", "link", "script", "style", "body", "main", "div", "p", "label", "input", "h1",
    "h2", "ul", "li", "a", "details", "summary", "section", "table", "thead", "tbody", "tr", "th", "td", "span",
    "figure", "bdi",
}  # fmt: skip
DRAWN = {
    "svg",
    "title",
    "desc",
    "defs",
    "clippath",
    "g",
    "path",
    "rect",
    "circle",
    "line",
    "text",
    "tspan",
    "polygon",
    "pattern",
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", ["", "/file"])
def test_page_and_file_say_every_word_of_the_briefing_in_its_order(client, store, evening, tokens, reader, kind):
    answer = client.get(f"/b/{tokens[reader]}{kind}")
    assert answer.status_code == 200
    said, at = Read(answer.text).text, 0
    for words in map(plain, words_of(issued_briefing(store, evening, reader, NOW))):
        assert words in said[at:], words
        at = said.index(words, at) + (len(words) if len(words) > 40 else 0)
    assert forbidden_in(said) == []


@pytest.mark.parametrize("reader", READERS)
def test_it_is_light_enough_for_a_poor_signal(client, tokens, reader):
    page = client.get(f"/b/{tokens[reader]}")
    assert "<svg" in page.text
    loaded = [lead for tag, _, lead in Read(page.text).leads if tag in ("link", "script") and lead != "data:,"]
    assert len(loaded) == 2
    assert len(page.data) + sum(len(client.get(each).data) for each in loaded) < MOST_BYTES
    assert len(client.get(f"/b/{tokens[reader]}/file").data) < MOST_BYTES


@pytest.mark.parametrize(("repeated", "room"), [(1, 9), (40, 3)])
def test_plans_for_which_there_is_no_room_are_left_out_and_it_says_so(client, tokens, monkeypatch, repeated, room):
    plan, numbers = SKETCH.replace("Spot", "x" * 12_000), range(1, 15)
    briefing = made("“Words” & more. " * repeated)
    when, _, gear = briefing.sections
    briefing = replace(briefing, sections=(when, gear, Section("plans", "Plans", drawings=tuple(numbers))))
    told = planning.opened(briefing, SKETCH, 1, dict.fromkeys(numbers, plan))
    assert room <= len(told.drawings) < len(numbers)
    assert told.left_out.startswith(f"{len(numbers) - len(told.drawings)} plans are left out")
    monkeypatch.setattr(public, "whole_briefing", lambda *asked: told)
    for kind in ("", "/file"):
        page = client.get(f"/b/{tokens['helper']}{kind}")
        assert told.left_out in page.text
        assert page.text.count("x" * 12_000) == len(told.drawings)
        assert len(page.data) + (0 if kind else 8_000) < MOST_BYTES


def test_it_needs_no_script_and_has_none_of_the_programs_pages(client, tokens):
    page = client.get(f"/b/{tokens['helper']}")
    read = Read(page.text)
    assert set(read.tags) <= ELEMENTS | DRAWN
    assert read.handlers == []
    leads = [lead for tag, _, lead in read.leads if tag == "a" and lead.startswith("/")]
    assert leads == [f"/b/{tokens['helper']}{kind}" for kind in ("/file", ".ics", ".pdf")]
    assert "style" not in {name for _, name, _ in read.leads}


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_else_finds_it_and_no_cache_keeps_it(client, tokens, kind):
    for token in (tokens["model"], "1-wrong"):
        answer = client.get(f"/b/{token}{kind}")
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["Cache-Control"] == "private, no-store"
        assert answer.headers["X-Robots-Tag"] == "noindex, nofollow"
        assert "Set-Cookie" not in answer.headers
        assert_strict(answer, kind)
        if answer.mimetype == "text/html":
            assert '<meta name="robots" content="noindex, nofollow">' in answer.text


def refused(client: FlaskClient, token: str) -> set[bytes]:
    answers = [client.get(f"/b/{token}{kind}") for kind in ("", "/file", ".ics", ".pdf", ".json")]
    assert {answer.status_code for answer in answers} == {404}
    return {answer.data for answer in answers}


def test_wrong_replaced_ended_and_deleted_are_told_the_same(app, client, store, evening, tokens):
    app.config["RATELIMIT_BRIEFING_WRONG"] = "100 per minute"
    told = refused(client, "1-wrong")
    assert len(told) == 1
    with store.reading() as s:
        share = shares_of(s, evening)["attendee"]
    assert refused(client, share_token("another secret", share)) == told
    renew_link(store, evening, "attendee", 1, NOW)
    assert refused(client, tokens["attendee"]) == told
    set_end(store, evening, "model", 1, "2026-10-16", NOW)
    assert refused(client, tokens["model"]) == told
    assert client.get(f"/b/{tokens['helper']}").status_code == 200
    with store.writing() as s:
        rules.delete_workshop(s, evening, rules.get_workshop(s, evening).version, now=NOW)
    assert refused(client, tokens["helper"]) == told
    assert b"Kerbstand" not in told.pop()


def test_guessing_is_stopped_and_reading_is_not(app, client, tokens):
    app.config["RATELIMIT_BRIEFING_WRONG"] = "3 per minute"
    for _ in range(5):
        assert client.get(f"/b/{tokens['attendee']}").status_code == 200
    assert [client.get(f"/b/1-guess{n}").status_code for n in range(4)] == [404, 404, 404, 429]
    stopped = client.get("/b/1-guess")
    assert stopped.status_code == 429
    assert "Wait ten minutes" in stopped.text
    assert client.get("/b/1-x", environ_overrides={"REMOTE_ADDR": "127.0.0.2"}).status_code == 404


@pytest.mark.parametrize("kind", KINDS)
def test_guesses_from_an_address_lock_no_right_link_out_there(app, client, tokens, kind):
    app.config.update(RATELIMIT_BRIEFING_WRONG="2 per minute", RATELIMIT_BRIEFING="6 per minute")
    app.config["RATELIMIT_BRIEFING_FILE"] = "4 per minute"
    tried = [client.get(f"/b/1-guess{n}{'.json' if n % 2 else '.ics'}").status_code for n in range(20)]
    assert tried == [404, 404] + [429] * 18
    assert client.get(f"/b/{tokens['attendee']}{kind}").status_code == 200
    assert client.get(f"/b/{tokens['attendee'][:-1]}1{kind}").status_code == 429


def test_reading_without_end_is_stopped_too(app, client, tokens):
    app.config.update(RATELIMIT_BRIEFING="4 per minute", RATELIMIT_BRIEFING_FILE="2 per minute")
    assert [client.get(f"/b/{tokens['model']}.ics").status_code for _ in range(3)] == [200, 200, 429]
    assert [client.get(f"/b/{tokens['model']}").status_code for _ in range(3)] == [200, 200, 429]


def test_with_sign_in_on_a_link_opens_its_briefing_alone(app, evening, tokens):
    app.config.update(SIGN_IN=True, PASSPHRASE_METHOD=FAST)
    stranger = app.test_client()
    for kind in KINDS:
        assert stranger.get(f"/b/{tokens['helper']}{kind}").status_code == 200, kind
        assert stranger.get(f"/b/1-wrong{kind}").status_code == (200 if kind == "/keep.js" else 404), kind
    for path in (f"/workshops/{evening}/briefing/links", f"/workshops/{evening}/briefing/helper/file"):
        assert stranger.get(path).status_code == 303
    assert stranger.post(f"/b/{tokens['helper']}").status_code in (401, 405)


@pytest.mark.parametrize("kind", ["", ".json", "/file"])
@pytest.mark.parametrize("reader", READERS)
def test_nobodys_name_or_number_is_on_it(client, tokens, reader, kind):
    text = client.get(f"/b/{tokens[reader]}{kind}").text
    for each in (*(name for _, name in PEOPLE), *(word for _, name in PEOPLE for word in name.split()), NUMBER):
        assert f" {each}" not in text, each
        assert f">{each}" not in text, each


def test_version_and_day_are_told_and_what_changed_since(client, store, evening, tokens):
    assert "A draft that was never issued" in client.get(f"/b/{tokens['model']}").text
    issue(store, evening, NOW)
    assert "Version 1, issued on Saturday 17 October 2026." in client.get(f"/b/{tokens['model']}").text
    with store.writing() as s:
        kept = rules.get_workshop(s, evening)
        rules.change_workshop(s, evening, kept.version, replace(kept, title="Evening after rain"))
    issue(store, evening, NOW)
    page = client.get(f"/b/{tokens['model']}").text
    assert "Version 2" in page
    assert page.index("What changed") < page.index("<section")


def test_called_off_is_said_before_anything_else(client, store, evening, tokens):
    issue(store, evening, NOW)
    with store.writing() as s:
        kept = rules.get_workshop(s, evening)
        rules.change_workshop(s, evening, kept.version, replace(kept, called_off=True))
    for kind in ("", "/file"):
        page = client.get(f"/b/{tokens['attendee']}{kind}").text
        assert page.index("Called off: do not come") < page.index("<h1")


@pytest.mark.parametrize("words", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("kind", ["", "/file"])
def test_hostile_words_are_words(client, tokens, monkeypatch, words, kind):
    told = planning.opened(made(words), SKETCH, 1, {1: SKETCH})
    monkeypatch.setattr(public, "whole_briefing", lambda *asked: told)
    answer = client.get(f"/b/{tokens['attendee']}{kind}")
    read = Read(answer.text)
    assert set(read.tags) <= ELEMENTS | DRAWN
    assert read.tags.count("script") == (0 if kind else 1)
    assert read.tags.count("svg") == 2
    assert read.handlers == []
    assert read.text.count(plain(unturned(words))) >= 24
    assert "\u202e" not in answer.text
    assert len(answer.data) < MOST_BYTES


@pytest.mark.parametrize("words", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_title_reaches_every_output(client, store, evening, tokens, words):
    with store.writing() as s:
        kept = rules.get_workshop(s, evening)
        rules.change_workshop(s, evening, kept.version, replace(kept, title=words[:120]))
    for kind in KINDS:
        answer = client.get(f"/b/{tokens['helper']}{kind}")
        assert answer.status_code == 200, kind
        if answer.mimetype == "text/html":
            assert set(Read(answer.text).tags) <= ELEMENTS | DRAWN
        if kind in ("", ".json", "/file", ".ics"):
            assert "\u202e" not in answer.text
            assert "\\u202e" not in answer.text
    assert "<img" not in client.get(f"/workshops/{evening}/briefing/links").text


@pytest.mark.parametrize("reader", ["attendee", "model", "helper"])
def test_calendar_and_pdf_are_named_after_whom_they_are_for(client, tokens, evening, reader):
    for kind, name in ((".ics", f"workshop-{evening}-{reader}.ics"), (".pdf", f"briefing-{evening}-{reader}.pdf")):
        answer = client.get(f"/b/{tokens[reader]}{kind}")
        assert answer.headers["Content-Disposition"] == f'attachment; filename="{name}"'


def test_the_file_asks_for_nothing(client, tokens, evening):
    answer = client.get(f"/b/{tokens['helper']}/file")
    assert answer.headers["Content-Disposition"] == f'attachment; filename="briefing-{evening}-helpers.html"'
    read = Read(answer.text)
    assert "script" not in read.tags
    assert "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:; " in answer.text
    assert [(tag, lead) for tag, _, lead in read.leads if tag != "a"] == [("link", "data:,")]
    for address in [lead for tag, _, lead in read.leads if tag == "a"]:
        assert address.startswith(("#", "geo:", "https://", f"http://localhost/b/{tokens['helper']}")), address
    assert "url(" not in answer.text.replace("url(#", "")
    assert "@import" not in answer.text


def test_the_organisers_own_file_holds_no_link(client, evening, tokens):
    answer = client.get(f"/workshops/{evening}/briefing/helper/file")
    assert answer.status_code == 200
    assert "/b/" not in answer.text
    assert client.get(f"/workshops/{evening}/briefing/guard/file").status_code == 422
    assert client.get("/workshops/999/briefing/helper/file").status_code == 404


def test_what_keeps_the_page_may_keep_nothing_else(client, tokens):
    answer = client.get(f"/b/{tokens['model']}/keep.js")
    assert answer.mimetype == "text/javascript"
    assert answer.headers["Service-Worker-Allowed"] == f"/b/{tokens['model']}"
    assert answer.text == (STATIC / "js" / "keep.js").read_text("utf-8")


def test_the_json_is_the_same_briefing(app, client, store, evening, tokens):
    answer = client.get(f"/b/{tokens['model']}.json").json
    assert answer == app.json.loads(app.json.dumps(issued_briefing(store, evening, "model", NOW)))


def test_a_reader_who_chose_dark_pages_gets_one(client, tokens):
    assert "checked" not in client.get(f"/b/{tokens['model']}").text
    client.set_cookie("theme", "dark")
    assert 'id="dark" checked' in client.get(f"/b/{tokens['model']}").text


def test_links_differ_between_two_programs_with_one_secret(store, evening, tokens):
    """The salt is chance: the same workshop in a copy that was begun anew has other links."""
    with store.reading() as s:
        share = shares_of(s, evening)["model"]
    assert share_token("only for tests", share) == tokens["model"]
    assert share_token("only for tests", replace(share, salt="0" * 32)) != tokens["model"]
    assert [each.token for each in links_page(store, "only for tests", evening, NOW).links] == list(tokens.values())
