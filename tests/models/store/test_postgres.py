"""The same store on PostgreSQL. KERBSTAND_TEST_POSTGRES: a postgresql+psycopg:// address where a schema may be made."""

from __future__ import annotations

import os
import uuid
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from models.light.kit import Flash
from models.store import people
from models.store.caches import get_cache, put_cache
from models.store.engine import Store, open_store, upgrade
from models.store.erasing import clean, is_unclean, note_erasure
from models.store.kit import add_kit, list_kit
from models.store.rules import (
    add_area,
    add_enquiry,
    add_paper,
    add_rules,
    add_workshop,
    areas_along,
    areas_at,
    delete_area,
    delete_workshop,
    enquiries_for,
    file_of,
    history_of,
    list_enquiries,
    list_papers,
    list_workshops,
    restore_area,
    rules_for,
    store_file,
)
from models.store.settings import get_setting, put_setting
from models.store.spots import (
    Clash,
    Missing,
    add_spot,
    change_spot,
    delete_spot,
    find_spot,
    list_spots,
    restore_spot,
    spots_in_view,
)
from models.store.spots import shelf as spots_kept
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
from models.workshop.person import PersonDraft, ReleaseDraft
from tests.models.store.at_once import outcomes_at_once
from tests.models.store.rules_drafts import AREA, PAPER, full_enquiry, full_rule, full_workshop, rule_draft

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


def test_what_is_recorded_of_rules_comes_back(store: Store, foundry_lane: SpotDraft) -> None:
    with store.writing() as s:
        spot, other = add_spot(s, foundry_lane), add_spot(s, foundry_lane)
        area = add_area(s, AREA)
        add_rules(s, [rule_draft(spot_id=spot.id), full_rule(area.id)])
        workshop = add_workshop(s, full_workshop(spot.id, other.id))
        enquiry = add_enquiry(s, full_enquiry(spot.id, workshop.id))
        dayless = add_enquiry(s, replace(full_enquiry(spot.id, workshop.id), first_day=None, last_day=None))
        paper = add_paper(s, PAPER)
        file = store_file(s, enquiry.id, "grant.pdf", "application/pdf", bytes(range(256)))
    with store.reading() as s:
        assert areas_at(s, 52.55, 5.25) == areas_along(s, [(52.0, 5.25), (53.0, 5.25)]) == (area,)
        assert [rule.area_id for rule in rules_for(s, (area.id,), spot.id)] == [area.id, None]
        assert enquiries_for(s, (), spot.id) == list_enquiries(s, "granted") == (enquiry, dayless)
        assert list_papers(s) == (paper,)
        assert list_workshops(s, from_=workshop.ends) == (workshop,)
        assert file_of(s, file.id).data == bytes(range(256))
        assert [step.state for step in history_of(s, enquiry.id)] == ["granted"]


def test_what_is_named_stays_and_what_hangs_on_the_rest_goes(store: Store, foundry_lane: SpotDraft) -> None:
    long_ago, now = datetime(2026, 1, 1, tzinfo=UTC), datetime(2026, 10, 17, tzinfo=UTC)
    with store.writing() as s:
        spot, other, plain = (add_spot(s, foundry_lane) for _ in range(3))
        area, last = add_area(s, AREA), add_area(s, AREA)
        add_rules(s, [rule_draft(area_id=area.id), rule_draft(spot_id=plain.id)])
        workshop = add_workshop(s, full_workshop(spot.id, other.id))
        delete_area(s, area.id, 1)
        assert rules_for(s, (area.id,), None) == ()
        assert restore_area(s, area.id).version == 3
        assert len(rules_for(s, (area.id,), plain.id)) == 2
        delete_area(s, area.id, 3, now=long_ago)
        for each in (spot, other, plain):
            delete_spot(s, each.id, 1, now=long_ago)
        delete_area(s, last.id, 1, now=now)
        assert spots_kept.purge(s, now=now) == 1
        for each in (spot, other):
            assert restore_spot(s, each.id).version == 3
        with pytest.raises(Missing):
            restore_spot(s, plain.id)
        with pytest.raises(Missing):
            restore_area(s, area.id)
        delete_workshop(s, workshop.id, 1, now=long_ago)


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


def test_people_are_erased_and_their_tables_written_anew(store: Store, foundry_lane: SpotDraft) -> None:
    today = date(2026, 10, 17)
    with store.writing() as s:
        spot, other = add_spot(s, foundry_lane), add_spot(s, foundry_lane)
        workshop = add_workshop(s, full_workshop(spot.id, other.id))
        ana = people.shelf.add(s, PersonDraft(workshop_id=workshop.id, part="model", name="Ana", owed_by=today))
        paper = ReleaseDraft(
            workshop_id=workshop.id, person_id=ana.id, signed_on=today, by_whom="Ana", for_whom="Ana", uses=("web",)
        )
        kept = people.release_shelf.add(s, paper)
        assert people.people_of(s, workshop.id) == (ana,)
        assert people.erase_people(s, [ana.id], today) == 1
        note_erasure(s, datetime(2026, 10, 17, 12, tzinfo=UTC), 1, 0)
    assert clean(store)
    with store.reading() as s:
        assert people.shelf.get(s, ana.id).name == "erased"
        assert people.releases_by_person(s, [ana.id]) == {ana.id: [kept]}
        assert people.lapsed_releases(s, today) == ()
        assert not is_unclean(s)


def test_writing_in_a_reading_session_is_an_error(store: Store) -> None:
    with store.reading() as s, pytest.raises(sa.exc.InternalError, match="read-only"):
        put_setting(s, "turbidity", 4.0)
