"""Tables of the town. south, west, north, east: the smallest box round a row, degrees."""

from __future__ import annotations

import sqlalchemy as sa

from models.store.types import NestedTuple, metadata


def _of_import() -> sa.Column[int]:
    return sa.Column("import_id", sa.ForeignKey("imports.id", ondelete="CASCADE"), nullable=False)


def _box(*, nullable: bool = False) -> list[sa.Column[float]]:
    return [sa.Column(side, sa.Float, nullable=nullable) for side in ("south", "west", "north", "east")]


def _point() -> list[sa.Column[float]]:
    return [sa.Column(name, sa.Float, nullable=False) for name in ("latitude_deg", "longitude_deg")]


imports = sa.Table(
    "imports",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("name", sa.Text, nullable=False, unique=True),
    sa.Column("attribution", sa.Text, nullable=False),
    sa.Column("buildings", sa.Integer, nullable=False),
    sa.Column("assumed_buildings", sa.Integer, nullable=False),
    sa.Column("trees", sa.Integer, nullable=False),
    sa.Column("footways", sa.Integer, nullable=False),
    sa.Column("lamps", sa.Integer, nullable=False),
    *_box(nullable=True),
)

buildings = sa.Table(
    "buildings",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    sa.Column("rings", NestedTuple, nullable=False),
    sa.Column("top_m", sa.Float, nullable=False),
    sa.Column("bottom_m", sa.Float, nullable=False),
    sa.Column("height_source", sa.Text, nullable=False),
    sa.Column("doubt_m", sa.Float, nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    *_box(),
    sa.Index(None, "south", "north", "west", "east"),
    sqlite_autoincrement=True,  # a number never comes back as another building
)

wall_tiles = sa.Table(
    "wall_tiles",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    *_box(),
    sa.Column("walls", sa.LargeBinary, nullable=False),
    sa.Index(None, "south", "north", "west", "east"),
)

trees = sa.Table(
    "trees",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    *_point(),
    sa.Column("height_m", sa.Float, nullable=False),
    sa.Column("crown_radius_m", sa.Float, nullable=False),
    sa.Column("assumed", sa.Boolean, nullable=False),
    sa.Index(None, "latitude_deg", "longitude_deg"),
)

footways = sa.Table(
    "footways",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    sa.Column("line", NestedTuple, nullable=False),
    sa.Column("width_m", sa.Float),
    sa.Column("surface", sa.Text),
    sa.Column("lit", sa.Boolean),
    sa.Column("kind", sa.Text, nullable=False),
    *_box(),
    sa.Index(None, "south", "north", "west", "east"),
)

lamps = sa.Table(
    "lamps",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    *_point(),
    sa.Index(None, "latitude_deg", "longitude_deg"),
)

hints = sa.Table(
    "hints",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _of_import(),
    *_point(),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Index(None, "latitude_deg", "longitude_deg"),
)
