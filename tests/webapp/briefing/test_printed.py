"""The briefing as a PDF from the organiser's page: its media type, its sizes, its link, and what is refused."""

from __future__ import annotations

import re

import pytest

from models.planning.briefing.paper import paper_of
from models.workshop.briefing import READERS
from tests.models.exchange.printed import plain, reader, text_of
from tests.models.planning.briefing.briefed import NAMES, NUMBERS


def address(who: str, ending: str = ".pdf") -> str:
    return f"/workshops/1/briefing/{who}{ending}"


@pytest.mark.parametrize("who", READERS)
def test_is_shown_in_the_browser_under_a_plain_name(client, who):
    answer = client.get(address(who))
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    assert answer.headers["Content-Disposition"] == f'inline; filename="briefing-1-{who}.pdf"'
    said = text_of(answer.data)
    assert plain(f"For {who}s") in said
    assert [each for each in (*NAMES, *NUMBERS) if plain(each) in said] == []


@pytest.mark.parametrize(
    ("ending", "width"), [(".pdf", 595), (".pdf?paper=a4", 595), (".pdf?paper=Letter", 612), ("/letter.pdf", 612)]
)
def test_on_either_paper(client, ending, width):
    page = reader(client.get(address("model", ending)).data).pages[0]
    assert round(float(page.mediabox.width)) == width


def test_has_the_code_and_the_address_of_the_page_once_there_is_a_link(client):
    assert "/Annots" not in reader(client.get(address("model")).data).pages[0]
    client.send("/workshops/1/briefing/links", {"reader": "model"})
    page = reader(client.get(address("model")).data).pages[0]
    link = page["/Annots"][0].get_object()["/A"]["/URI"]
    assert re.fullmatch(r"http://[^/]+/b/[a-z0-9-]+", link)
    assert plain(link) in plain(page.extract_text())
    assert client.get(link).status_code == 200
    assert "/Annots" not in reader(client.get(address("helper")).data).pages[0]


@pytest.mark.parametrize("wrong", ["nobody.pdf", "model.pdf?paper=a3", "model.pdf?paper=%00", "letter.pdf"])
def test_what_is_not_understood_is_said(client, wrong):
    answer = client.get(f"/workshops/1/briefing/{wrong}")
    assert answer.status_code == 422
    assert answer.mimetype == "text/html"


def test_no_workshop_no_file(client):
    assert client.get("/workshops/99/briefing/model.pdf").status_code == 404


def test_the_page_offers_both_papers_to_every_reader(client):
    page = client.get("/workshops/1/briefing").text
    for who in READERS:
        assert f'href="{address(who)}"' in page
        assert f'href="{address(who, "/letter.pdf")}"' in page


def test_is_the_same_file_as_planning_makes(client, store, app):
    made = paper_of(store, 1, "attendee", app.config["CLOCK"]())
    assert client.get(address("attendee")).data == made
