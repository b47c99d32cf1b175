"""Every address of the program: in the demo town, in an empty database, and asked with texts that nobody types.

What is looked for is found in a few seeded pages too, so that each search is seen to fail.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import cycle
from typing import ClassVar
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from flask import Flask, Request, jsonify, request
from werkzeug.datastructures import ImmutableMultiDict
from werkzeug.test import TestResponse

from models.workshop.person import PARTS
from tests.databases import copy_of, filled
from tests.webapp.conftest import NOW
from tests.webapp.whole_town import ASKED, OURS, Known, addresses, fill, known
from webapp import create_app
from webapp.address import CARRIED
from webapp.gate import public_endpoints
from webapp.security import limiter

PLAIN = (".json", ".geojson", ".ics", ".gpx")
FIGURES = ("application/json", "application/geo+json", "text/calendar", "application/gpx+xml")
HOSTILE = ("9" * 5000, "\x00\u202e\u2067</script>\N{PILE OF POO}", "1e999", "nan", "-1", "2026-02-30")
"""Very long and a very large number, no text at all, no number, below nothing, no such day."""
USUAL_WEIGHT, SPOT_WEIGHT = 100_000, 200_000
"""Bytes before they are squeezed, without the map program; the spot page has the light of a day and of a year."""

A_FORM = "a form: what it changes is told under the thing's own address"
NO_TWIN = {
    **dict.fromkeys(
        ("spots.new", "spots.edit", "rules.new_area", "rules.edit_area", "rules.new_rule", "rules.edit_rule",
         "rules.import_form", "workshops.new", "workshops.edit", "stations.new", "stations.edit", "enquiries.new",
         "enquiries.edit", "enquiries.new_step", "papers.new", "papers.edit", "people.new", "people.edit",
         "people.import_form", "people.new_release", "people.edit_release", "kit.new", "kit.edit", "kit.import_form",
         "street.edit_count", "street.edit_hour", "street.import_form", "setups.new", "setups.edit", "settings.show"),
        A_FORM,
    ),
    "people.erasure": "asks before a press; whom it is about stands in the list",
    "running.leaf_file": "the leaf in one file; its figures stand under the leaf's address",
    "shared_briefing.own_file": "a briefing in one file; its figures stand under the briefing's address",
    "shared_briefing.file": "a briefing in one file; its figures stand under the link's address",
    "street.fetched": "leads back to the weather",
    "account.sign_in_form": "the passphrase is typed here",
    "account.link": "opened once, to choose the passphrase",
}  # fmt: skip

ASKING = re.compile(r"<form(?![^>]*method=.post).*?</form>", re.DOTALL)
FIELD = re.compile(r'\sname="([^"]+)"')


class Watched(ImmutableMultiDict):
    """Notes what is looked for in it."""

    looked_for: ClassVar[set[str]] = set()

    def get(self, key, *args, **kwargs):
        self.looked_for.add(key)
        return super().get(key, *args, **kwargs)

    def getlist(self, key, *args, **kwargs):
        self.looked_for.add(key)
        return super().getlist(key, *args, **kwargs)

    def __contains__(self, key):
        self.looked_for.add(key)
        return super().__contains__(key)

    def __getitem__(self, key):
        self.looked_for.add(key)
        return super().__getitem__(key)


class WatchingRequest(Request):
    parameter_storage_class = Watched


@dataclass(frozen=True)
class Answer:
    """names: of the parameters that were looked for."""

    endpoint: str
    address: str
    response: TestResponse
    names: frozenset[str] = frozenset()

    @property
    def path(self) -> str:
        return urlsplit(self.address).path

    @property
    def html(self) -> bool:
        return self.response.mimetype == "text/html" and self.response.status_code == 200

    @property
    def page(self) -> bool:
        """Read in the browser, not kept as a file."""
        return self.html and "attachment" not in self.response.headers.get("Content-Disposition", "")


@pytest.fixture(scope="module")
def town(demo_once, tmp_path_factory) -> Iterator[Flask]:
    whole = filled(demo_once, tmp_path_factory.mktemp("filling"), fill)
    with copy_of(whole, tmp_path_factory.mktemp("town")) as store:
        yield app_on(store)


def app_on(store) -> Flask:
    """As it runs: a mistake of ours becomes an answer too."""
    app = create_app(store, config_changes={"SECRET_KEY": OURS, "CLOCK": lambda: NOW})
    app.request_class = WatchingRequest
    return app


@pytest.fixture(scope="module")
def words(town) -> Known:
    return known(town.extensions["kerbstand"], OURS)


@pytest.fixture(scope="module")
def answers(town, words) -> list[Answer]:
    return answered(town, addresses(town, words))


def answered(app: Flask, asked: Iterable[tuple[str, str]]) -> list[Answer]:
    client, found = app.test_client(), []
    for endpoint, address in asked:
        Watched.looked_for.clear()
        limiter.reset()
        response = client.get(address, buffered=True)
        found.append(Answer(endpoint, address, response, frozenset(Watched.looked_for)))
    return found


@pytest.fixture(scope="module")
def faulty() -> Flask:
    """Pages with a fault each, of no app of ours."""
    app = Flask(__name__)
    app.request_class = WatchingRequest
    app.add_url_rule("/broken", "broken", lambda: str(1 / 0))
    app.add_url_rule("/alone", "alone", lambda: f'<p style="top:0">{OURS}</p><script>1</script>{"x" * USUAL_WEIGHT}')
    app.add_url_rule("/named.json", "named", lambda: jsonify(name=OURS, on=int(request.args.get("on", "1"))))
    return app


@pytest.fixture(scope="module")
def seeded(faulty) -> list[Answer]:
    return answered(faulty, [("broken", "/broken"), ("alone", "/alone"), ("named", "/named.json")])


def broken(found: Sequence[Answer]) -> list[str]:
    return [each.address for each in found if each.response.status_code >= 500]


def without_twin(found: Sequence[Answer]) -> list[str]:
    """Pages that have no address with .json which answers with figures, by endpoint."""
    told = {each.path for each in found if each.response.is_json and each.response.status_code == 200}
    pages = [each for each in found if each.response.mimetype == "text/html" and each.endpoint not in NO_TWIN]
    return [each.endpoint for each in pages if f"{each.path if each.path != '/' else '/spots'}.json" not in told]


def naming(found: Sequence[Answer]) -> list[str]:
    """Figures that hold something personal."""
    plain = [each for each in found if each.response.mimetype in FIGURES or each.path.endswith(PLAIN)]
    return [each.address for each in plain if OURS in each.response.text]


def left_in_the_browser(found: Sequence[Answer]) -> list[str]:
    """What holds something personal and may be stored."""
    texts = [each for each in found if each.response.mimetype.startswith("text/") or each.response.is_json]
    personal = [each for each in texts if OURS in each.response.text]
    return [each.address for each in personal if "no-store" not in each.response.headers.get("Cache-Control", "")]


def lax(found: Sequence[Answer]) -> list[str]:
    """Answers without the headers that keep strangers' scripts and frames out."""
    bad = []
    for each in found:
        headers = each.response.headers
        policy = headers.get("Content-Security-Policy", "")
        strict = "default-src 'none'" in policy and "frame-ancestors 'none'" in policy and "unsafe" not in policy
        if not strict or headers.get("X-Content-Type-Options") != "nosniff":
            bad.append(each.address)
    return bad


def stopped_by_the_policy(found: Sequence[Answer]) -> list[str]:
    """Pages with a style or a script of their own, which the policy keeps from working."""
    inline = re.compile(r"<style|<[^>]*\s(?:style|on[a-z]+)=|<script(?![^>]*\ssrc=)")
    return [each.address for each in found if each.page and inline.search(each.response.text)]


def odd_addresses(found: Sequence[Answer], *, each_text: bool = True) -> Iterator[tuple[str, str]]:
    """(endpoint, address) with each parameter in turn as nobody types it, and all of them twice. A page whose figures
    stand under .json too is asked all at once, one that only carries parameters on not at all. Not each_text: each
    parameter with the next of the texts alone."""
    fields = {each.path: set(FIELD.findall("".join(ASKING.findall(each.response.text)))) for each in found if each.html}
    paths, turns = {each.path for each in found}, cycle(HOSTILE)
    for each in found:
        names = sorted(each.names | fields.get(each.path.removesuffix(".json"), set()))
        if each.response.mimetype == "text/html":
            told, own = f"{each.path}.json" in paths, [name for name in names if name not in CARRIED]
            if told and own:
                yield each.endpoint, asked(each, dict(zip(names, cycle(HOSTILE), strict=False)))
            names = [] if told else own
        for name in names:
            for text in HOSTILE if each_text else [next(turns)]:
                yield each.endpoint, asked(each, {name: text})
        if names:
            yield each.endpoint, f"{each.path}?" + urlencode([(name, text) for name in names for text in ("1", "x")])


def asked(each: Answer, odd: Mapping[str, str]) -> str:
    return f"{each.path}?" + urlencode(dict(parse_qsl(urlsplit(each.address).query)) | dict(odd))


def heavy(found: Sequence[Answer], sizes) -> list[tuple[str, int]]:
    """Pages that with their style sheets and scripts are heavier than they may be; sizes: bytes by address."""
    limits = {"spots.spot": SPOT_WEIGHT}
    weights = [(each, weight(each, sizes)) for each in found if each.page]
    return [(each.endpoint, much) for each, much in weights if much > limits.get(each.endpoint, USUAL_WEIGHT)]


def weight(each: Answer, sizes) -> int:
    own = set(re.findall(r'(?:href|src)="(/(?:static|map)/[^"?]+\.(?:css|js|svg))"', each.response.text))
    return len(each.response.data) + sum(map(sizes, own))


def test_every_address_is_looked_at_where_it_has_something_to_show(town, answers):
    assert {each.endpoint for each in answers} == {
        rule.endpoint for rule in town.url_map.iter_rules() if "GET" in rule.methods
    }


def test_nothing_breaks_and_everything_is_there(answers, seeded):
    assert broken(answers) == []
    assert broken(seeded) == ["/broken"]
    leads_on = {"street.fetched": 303, "account.sign_in_form": 303, "account.link": 410}
    odd = [(each.endpoint, each.response.status_code) for each in answers if each.response.status_code != 200]
    assert dict(odd) == leads_on


def test_nothing_breaks_where_nothing_is_kept(made_once, tmp_path, words):
    with copy_of(made_once, tmp_path) as store:
        found = answered(app_on(store), addresses(app_on(store), words))
    assert broken(found) == []
    assert sum(each.html for each in found) >= 18


def test_every_page_has_its_figures_under_json(answers, seeded):
    assert without_twin(answers) == []
    assert without_twin(seeded) == ["broken", "alone"]


def test_every_exception_is_needed(answers):
    assert {each.endpoint for each in answers} >= {*NO_TWIN, *ASKED}


def test_figures_and_files_name_nobody_and_nor_does_what_strangers_read(town, answers, seeded):
    assert naming(answers) == []
    assert naming(seeded) == ["/named.json"]
    strangers = [each.response for each in answers if each.endpoint in public_endpoints(town)]
    assert [each.request.path for each in strangers if "text" in each.mimetype and OURS in each.text] == []
    people = next(each for each in answers if each.endpoint == "people.listing_json")
    assert set(re.findall(rf'"({"|".join(PARTS)}) [0-9]+"', people.response.text)) == set(PARTS)


def test_no_browser_keeps_a_page_that_names_somebody(answers, seeded):
    assert left_in_the_browser(answers) == []
    assert left_in_the_browser(seeded) == ["/alone", "/named.json"]
    assert sum(OURS in each.response.text for each in answers if each.html) >= 12


def test_every_answer_carries_the_headers(answers, seeded):
    assert lax(answers) == []
    assert lax(seeded) == ["/broken", "/alone", "/named.json"]


def test_no_page_holds_what_the_policy_would_stop(answers, seeded):
    assert stopped_by_the_policy(answers) == []
    assert stopped_by_the_policy(seeded) == ["/alone"]


def test_every_page_keeps_its_weight(town, answers, seeded):
    client = town.test_client()
    sizes = {}

    def size(address: str) -> int:
        if address not in sizes:
            sizes[address] = len(client.get(address, buffered=True).data)
        return sizes[address]

    assert heavy(answers, size) == []
    assert [endpoint for endpoint, _ in heavy(seeded, size)] == ["alone"]
    assert len(sizes) > 10


def test_a_text_that_nobody_types_breaks_nothing(town, answers):
    asked = list(odd_addresses(answers, each_text=False))
    assert len(asked) > 200
    assert broken(answered(town, asked)) == []


@pytest.mark.slow
def test_none_of_these_texts_breaks_anything(town, answers):
    assert broken(answered(town, odd_addresses(answers))) == []


def test_that_search_finds_what_breaks(faulty, seeded):
    found = broken(answered(faulty, odd_addresses([each for each in seeded if each.endpoint == "named"])))
    assert found == [f"/named.json?{urlencode({'on': text})}" for text in HOSTILE if text != "-1"]
