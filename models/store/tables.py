"""All tables in one place, for migrations: importing a feature adds its tables."""

from models.store import account, caches, hazards, kit, readings, settings, setups, spots, street, weather
from models.store.rules import tables as rules
from models.store.town import tables as town
from models.store.types import metadata

__all__ = [
    "account",
    "caches",
    "hazards",
    "kit",
    "metadata",
    "readings",
    "rules",
    "settings",
    "setups",
    "spots",
    "street",
    "town",
    "weather",
]
