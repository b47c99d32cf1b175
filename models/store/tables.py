"""All tables in one place, for migrations: importing a feature adds its tables."""

from models.store import (
    account,
    briefings,
    caches,
    erasing,
    happenings,
    hazards,
    kit,
    people,
    plans,
    readings,
    rota_starts,
    settings,
    setups,
    shares,
    spots,
    stations,
    street,
    weather,
)
from models.store.rules import tables as rules
from models.store.town import tables as town
from models.store.types import metadata

__all__ = [
    "account",
    "briefings",
    "caches",
    "erasing",
    "happenings",
    "hazards",
    "kit",
    "metadata",
    "people",
    "plans",
    "readings",
    "rota_starts",
    "rules",
    "settings",
    "setups",
    "shares",
    "spots",
    "stations",
    "street",
    "town",
    "weather",
]
