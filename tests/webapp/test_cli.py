"""The command line: the pages' answers as text and JSON, nobody's text steers the terminal."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from flask.cli import ScriptInfo

from models.light.flash import Camera, Flash
from models.planning.demo import HAVENMARK
from models.planning.rules.areas import all_areas
from models.store.kit import add_kit
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from tests.webapp.conftest import ZONE
from webapp.cli import main
from webapp.commands.terminal import plain

MOMENT = ("--on", "2026-10-17", "--at", "16:40")


@pytest.fixture
def kit(store):
    with store.writing() as s:
        add_kit(s, Flash("small", "small flash", ((24.0, 20.0),), False, recycle_full_s=3.0, clean_sync_s=1 / 200))
        add_kit(s, Camera("body", "camera body", 1 / 200, 100, 1 / 4000, 1.8, 22))


@pytest.fixture
def run(app):
    def call(*arguments: str):
        return CliRunner().invoke(main, arguments, obj=ScriptInfo(create_app=lambda: app, set_debug_flag=False))

    return call


def test_spots_lists_what_the_page_lists(run, client):
    told = run("spots", *MOMENT)
    assert told.exit_code == 0, told.output
    twin = client.get("/spots.json?on=2026-10-17&at=16:40").json
    assert twin["answer"] in told.output
    for row in twin["rows"]:
        assert row["name"] in told.output
    assert json.loads(run("spots", *MOMENT, "--json").output) == twin


def test_light_says_the_pages_sentence(run, client, kit):
    told = run("light", "foundry", "--at", "2026-10-17 16:40", "--looking", "west")
    assert told.exit_code == 0, told.output
    twin = client.get("/spots/1.json?on=2026-10-17&at=16:40&looking=west", follow_redirects=True).json
    assert twin["answer"] in told.output
    assert "Which way to face them" in told.output
    assert "Not checked" in told.output
    assert twin["flash"]["ways_out"]
    for way in twin["flash"]["ways_out"]:
        assert f"  {way['gain_stops']:+.1f} stops: {way['words']}" in told.output
    shown = json.loads(run("light", "1", "--at", "2026-10-17 16:40", "--looking", "west", "--json").output)
    assert shown["answer"] == twin["answer"]


def test_times_ranks_windows_at_one_spot_and_across_all(run, kit):
    days = ("--from", "2026-10-17", "--to", "2026-10-18")
    one = run("times", "ferry", *days, "--want", "any")
    assert one.exit_code == 0, one.output
    assert "17 October" in one.output
    everywhere = run("times", *days, "--json")
    assert everywhere.exit_code == 0, everywhere.output
    assert json.loads(everywhere.output)["spot"] is None
    assert run("times", "all", *days, "--json").output == everywhere.output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("light", "nowhere"), "there is no spot 'nowhere'"),
        (("light", "1", "--at", "25:00"), "time: “25:00” is not a time"),
        (("light", "1", "--on", "2026-03-29", "--at", "02:30"), "does not exist"),
        (("light", "1", "--on", "2026-10-25", "--at", "02:30"), "comes twice"),
        (("spots", "--sky", "9"), "sky: “9” is not a sky"),
        (("import", "osm", "/nowhere.osm.pbf"), "does not exist"),
    ],
)
def test_bad_input_is_told_with_its_field_and_code_2(run, kit, arguments, words):
    told = run(*arguments)
    assert told.exit_code == 2
    assert words in told.output
    assert "Traceback" not in told.output


def test_a_spot_is_named_by_a_part_unless_several_share_it(run, store, kit):
    with store.writing() as s:
        add_spot(s, SpotDraft(name="Foundry Yard", latitude_deg=52.5304, longitude_deg=5.232, zone=ZONE))
    told = run("light", "foundry")
    assert told.exit_code == 2
    assert "Foundry Lane" in told.output
    assert "Foundry Yard" in told.output


def test_a_hostile_name_cannot_steer_the_terminal(run, store):
    name = "Quay \u202egnp.exe\u2028\u200b"
    with store.writing() as s:
        add_spot(s, SpotDraft(name=name, latitude_deg=52.53, longitude_deg=5.23, zone=ZONE))
    told = run("spots").output
    assert "Quay \ufffdgnp.exe" in told
    for steering in ("\u202e", "\u2028", "\u200b", "\x1b", "\x07"):
        assert steering not in told


def test_plain_text_stays_and_controls_go():
    assert plain("Łódź, 52 m² – «quay»") == "Łódź, 52 m² – «quay»"
    assert plain("\x1b[31mred\x07\r\n\x9b") == "\ufffd[31mred\ufffd\ufffd\ufffd\ufffd"


def test_buildings_come_in_from_a_file(run, tmp_path):
    square = [[5.23, 52.53], [5.231, 52.53], [5.231, 52.531], [5.23, 52.531], [5.23, 52.53]]
    feature = {"type": "Feature", "geometry": {"type": "Polygon", "coordinates": [square]}, "properties": {"height": 9}}
    path = tmp_path / "block.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}), encoding="utf-8")
    told = run("import", "buildings", str(path), "--name", "block")
    assert told.exit_code == 0, told.output
    assert "1 building" in told.output


def test_a_broken_file_brings_in_nothing(run, tmp_path, client):
    path = tmp_path / "broken.geojson"
    path.write_text('{"type": "FeatureCollection", "features": [', encoding="utf-8")
    told = run("import", "spots", str(path))
    assert told.exit_code == 2
    assert len(client.get("/spots.json").json["rows"]) == 3


def test_rule_areas_are_looked_into_and_come_in_from_a_file(run, store):
    file = str(HAVENMARK / "areas.geojson")
    seen = run("import", "areas", file, "--check")
    assert seen.exit_code == 0, seen.output
    assert "10 areas can come in. Nothing is kept yet." in seen.output
    assert "Linden Park: park; Havenmark town council, parks office; 6 corners, about 14,000 m²" in seen.output
    assert all_areas(store) == ()
    told = run("import", "areas", file)
    assert told.exit_code == 0, told.output
    assert "10 areas brought in." in told.output
    assert len(all_areas(store)) == 10
    assert "All 10 areas of the file are there already." in run("import", "areas", file, "--check").output


@pytest.mark.parametrize("check", [(), ("--check",)])
def test_a_file_with_a_bad_area_brings_in_none(run, store, check):
    told = run("import", "areas", str(HAVENMARK / "ground.geojson"), "--authority", "Council", *check)
    assert told.exit_code == 2
    assert "feature 2 'Linden Park': has no kind" in told.output
    assert all_areas(store) == ()


def test_kind_and_authority_of_a_bare_file(run, store):
    file = str(HAVENMARK / "ground.geojson")
    assert run("import", "areas", file, "--kind", "palace").exit_code == 2
    assert run("import", "areas", file, "--kind", "park", "--authority", "Council").exit_code == 0
    assert {one.kind for one in all_areas(store)} == {"park"}


def test_the_demo_has_a_database_of_its_own(monkeypatch, tmp_path):
    from webapp import config

    folder = tmp_path / "kerbstand"
    monkeypatch.setattr(config, "user_data_path", lambda *a, **k: folder)
    monkeypatch.delenv("KERBSTAND_DATABASE_URL", raising=False)
    assert config.database_url() == f"sqlite:///{folder / 'kerbstand.sqlite3'}"
    assert folder.stat().st_mode & 0o077 == 0
    assert config.demo_path().name not in config.database_url()
    monkeypatch.setenv("KERBSTAND_DATABASE_URL", "sqlite:///elsewhere.sqlite3")
    assert config.database_url() == "sqlite:///elsewhere.sqlite3"
