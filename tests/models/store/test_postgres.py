"""The same store on PostgreSQL. KERBSTAND_TEST_POSTGRES: a postgresql+psycopg:// address where a schema may be made."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from models.light.kit import Flash
from models.store.caches import get_cache, put_cache
from models.store.engine import Store, open_store, upgrade
from models.store.kit import add_kit, list_kit
from models.store.settings import get_setting, put_setting
from models.store.spots import Clash, add_spot, change_spot, delete_spot, find_spot, list_spots, spots_in_view
from models.store.tables import metadata
from models.store.town import (
    building_covering,
    buildings_in,
    drop_import,
    packed_walls_near,
    reaches,
    replace_import,
    trees_near,
)
from models.street.scene import Canopy
from models.street.spot import SpotDraft
from models.street.town import Box, BuildingDraft, TownDraft, TreeDraft
from tests.models.store.at_once import outcomes_at_once

pytestmark = pytest.mark.postgres
ADDRESS = os.environ.get("KERBSTAND_TEST_POSTGRES", "")
CORNERS = ((5.2300, 52.5300), (5.2304, 52.5300), (5.2304, 52.5303), (5.2300, 52.5303))
TOWN = TownDraft((BuildingDraft((CORNERS,), 12.0), BuildingDraft((CORNERS,), 9.0)), (TreeDraft(52.53, 5.23, 9, 3),))


@pytest.fixture(scope="module")
def store() -> Iterator[Store]:
    if not ADDRESS:
        pytest.skip("no PostgreSQL to test on: set KERBSTAND_TEST_POSTGRES to its address")
    schema = f"kerbstand_{uuid.uuid4().hex}"
    server = sa.create_engine(ADDRESS, isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.exec_driver_sql(f"CREATE SCHEMA {schema}")
    url = sa.make_url(ADDRESS).update_query_dict({"options": f"-csearch_path={schema}"})
    opened = open_store(url.render_as_string(hide_password=False))
    upgrade(opened)
    upgrade(opened)
    yield opened
    opened.close()
    with server.connect() as connection:
        connection.exec_driver_sql(f"DROP SCHEMA {schema} CASCADE")
    server.dispose()


def test_migrations_make_what_the_tables_say(store: Store) -> None:
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "target_metadata": metadata})
        assert compare_metadata(context, metadata) == []


def test_a_spot_comes_back_and_clashes_and_is_found(store: Store, foundry_lane: SpotDraft) -> None:
    draft = replace(foundry_lane, canopies=(Canopy(1.0, 2.0, 3.0, 4.0, 0.5, 0.6),))
    now = datetime(2026, 10, 17, 12, tzinfo=UTC)
    with store.writing() as s:
        spot = add_spot(s, draft)
        assert spot.draft == draft
        changed = change_spot(s, spot.id, 1, replace(draft, notes="tram"))
        with pytest.raises(Clash):
            change_spot(s, spot.id, 1, draft)
        assert find_spot(s, "foundry") == changed
        assert list_spots(s, box=Box(52, 5, 53, 6), order_by="distance", here=(52.5, 5.2)) == (changed,)
        assert spots_in_view(s, None)[0].id == spot.id
        assert delete_spot(s, spot.id, 2, now=now).deleted_at == now


def test_of_two_changes_at_once_one_clashes(store: Store, foundry_lane: SpotDraft) -> None:
    with store.writing() as s:
        spot = add_spot(s, foundry_lane)
    drafts = [replace(foundry_lane, hazards=hazards) for hazards in ("tram", "bicycles")]
    changes = [lambda s, draft=draft: change_spot(s, spot.id, 1, draft) for draft in drafts]
    assert outcomes_at_once(store, *changes) == ["clash", "kept"]


def test_a_town_comes_and_goes_whole(store: Store) -> None:
    with store.writing() as s:
        replace_import(s, "town", TOWN)
        before = reaches(s).stamp(52.53, 5.23)
        replace_import(s, "town", TOWN)
        assert reaches(s).stamp(52.53, 5.23) != before
        near = packed_walls_near(s, 52.53, 5.23)
        assert (len(near.walls), near.buildings) == (8, 2)
        assert [row.top_m for row in buildings_in(s, Box(52, 5, 53, 6))] == [12.0, 9.0]
        assert near.building_ids.tolist() == [row.id for row in buildings_in(s, Box(52, 5, 53, 6))]
        covering = building_covering(s, 52.5301, 5.2301)
        assert covering is not None
        assert covering.top_m == 12.0
        assert len(trees_near(s, 52.53, 5.23)) == 1
        drop_import(s, "town")
        assert packed_walls_near(s, 52.53, 5.23).buildings == 0


def test_kit_settings_and_caches_come_back(store: Store) -> None:
    flash = Flash("small", "small flash", ((24.0, 20.0),))
    with store.writing() as s:
        add_kit(s, flash)
        put_setting(s, "golden_limits", [-3, 7])
        put_setting(s, "tiles", None)
        for k in range(4):
            put_cache(s, f"key {k}", b"\x00" * 10, most_bytes=20)
    with store.reading() as s:
        assert list_kit(s, Flash) == (flash,)
        assert get_setting(s, "golden_limits") == [-3.0, 7.0]
        assert get_setting(s, "tiles") is None
        assert [get_cache(s, f"key {k}") is not None for k in range(4)] == [False, False, True, True]


def test_writing_in_a_reading_session_is_an_error(store: Store) -> None:
    with store.reading() as s, pytest.raises(sa.exc.InternalError, match="read-only"):
        put_setting(s, "turbidity", 4.0)
