"""Working ahead: afterwards nothing has to wait, and it goes one small piece at a time."""

from __future__ import annotations

from models.planning import map_layers, spots, town_states, warming
from models.planning.map_layers import spots_geojson
from models.planning.spots import spots_page
from models.planning.warming import warming as pieces
from tests.models.planning.grounds import VIEW, at, block, build, equip, stand

NOON = at("2026-06-21T11:40")


def town(plans, spots_there):
    build(plans, block(-30, -20, 30, -10, 12.0))
    equip(plans)
    for k in range(spots_there):
        stand(plans, f"Spot {k}", east_m=3.0 * k)
    stand(plans, "Inside", north_m=-15.0)


def test_afterwards_list_and_map_have_nothing_to_wait_for(plans, monkeypatch):
    town(plans, 4)
    assert len(list(pieces(plans, NOON.instant))) == 5
    monkeypatch.setattr("models.planning.standing._worked_out", None)
    monkeypatch.setattr("models.planning.light.coefficients", None)
    assert spots_page(plans, NOON).pending == 0
    assert spots_geojson(plans, NOON, VIEW)["pending"] == 0


def test_past_the_first_spots_only_the_skyline_is_worked_out(plans, monkeypatch):
    monkeypatch.setattr(warming, "MOST_BRIGHTNESS", 2)
    town(plans, 12)
    for _ in pieces(plans, NOON.instant):
        pass
    monkeypatch.setattr("models.planning.standing._worked_out", None)
    for module, name in ((map_layers, "BRIGHTNESS_PATIENCE_S"), (spots, "PATIENCE_S")):
        monkeypatch.setattr(module, name, -1.0)
    monkeypatch.setattr(town_states, "PATIENCE_S", 0.0)
    states = [f["properties"]["state"] for f in spots_geojson(plans, NOON, VIEW)["features"]]
    assert states.count(None) == 1
    assert len(states) == 13


def test_nothing_to_do_is_soon_done(plans):
    assert list(pieces(plans, NOON.instant)) == []
