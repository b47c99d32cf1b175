"""What must be asked at a spot, on the terminal: as its page has it."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from flask.cli import ScriptInfo

from models.planning.rules.what_if import FOOTPRINT
from models.words.never import forbidden_in
from tests.webapp.streets import keep_streets
from webapp.cli import main

THEN = ("--on", "2026-10-31", "--at", "17:00")


@pytest.fixture
def run(app):
    def call(*arguments: str):
        return CliRunner().invoke(main, arguments, obj=ScriptInfo(create_app=lambda: app, set_debug_flag=False))

    return call


def test_it_says_what_the_page_says(run, client, store):
    keep_streets(store)
    told = run("rules", "foundry", *THEN, "--stand-ground", "2", "--fallback", "2", "--meet", "Ferry quay")
    assert told.exit_code == 0, told.output
    address = "/spots/1/rules.json?on=2026-10-31&at=17:00&stand_ground=2&fallback=2&meet=Ferry+quay"
    twin = client.get(address, follow_redirects=True).json
    said = " ".join(told.output.split())
    assert twin["answer"] in said
    assert twin["standing_note"] in said
    for activity in twin["activities"]:
        assert f"{activity['words']}: {activity['strictest']['words']}" in said
        assert " ".join(activity["strictest"]["say"].split()) in said
    assert "Rule area: Old streets, public street; Highways office." in said
    assert "No insurance is noted." in said
    assert forbidden_in(told.output) == []


def test_json_is_the_twin_of_the_page(run, client):
    told = run("rules", "1", *THEN, "--group", "12", "--json")
    assert json.loads(told.output) == client.get("/spots/1/rules.json?on=2026-10-31&at=17:00&group=12").json


@pytest.mark.parametrize("name", FOOTPRINT)
def test_a_word_that_cannot_be_read_is_named(run, name):
    told = run("rules", "1", *THEN, f"--{name.replace('_', '-')}", "nonsense")
    assert told.exit_code == 2
    assert name in told.output


def test_no_such_spot(run):
    assert run("rules", "the pub").exit_code == 2
