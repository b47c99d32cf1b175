"""A new database begins with plain kit, once."""

from models.planning.kit import begin_with_kit, kit_of
from models.store.engine import open_store, upgrade
from models.store.kit import change_kit, get_kit


def test_an_empty_database_begins_with_plain_unmeasured_kit(tmp_path):
    store = open_store(f"sqlite:///{tmp_path / 'own.sqlite3'}")
    upgrade(store)
    begin_with_kit(store)
    kit = kit_of(store)
    assert (len(kit.flashes), len(kit.modifiers), len(kit.cameras), len(kit.triggers), len(kit.batteries)) == (
        4, 9, 2, 2, 4,
    )  # fmt: skip
    assert not any(flash.measured for flash in kit.flashes[:1])


def test_what_was_retired_does_not_come_back(tmp_path):
    store = open_store(f"sqlite:///{tmp_path / 'own.sqlite3'}")
    upgrade(store)
    begin_with_kit(store)
    first = kit_of(store).flashes[0]
    with store.writing() as s:
        entry = get_kit(s, type(first), first.id)
        assert entry is not None
        change_kit(s, entry.version, first, retired=True)
    begin_with_kit(store)
    assert first not in kit_of(store).flashes
    assert len(kit_of(store).flashes) == 3
