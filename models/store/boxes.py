"""Part of the map as a condition; a box whose west is greater than its east crosses 180 degrees."""

from __future__ import annotations

import sqlalchemy as sa

from models.street.town import Box

Condition = sa.ColumnElement[bool]


def points_in(table: sa.Table, box: Box | None) -> list[Condition]:
    """Rows whose latitude_deg and longitude_deg lie in the box; no box is everywhere."""
    if box is None:
        return []
    latitude, longitude = table.c.latitude_deg, table.c.longitude_deg
    join = sa.and_ if box.west <= box.east else sa.or_
    return [latitude.between(box.south, box.north), join(longitude >= box.west, longitude <= box.east)]


def overlaps(table: sa.Table, box: Box) -> list[Condition]:
    """Rows whose own south, west, north, east meet the box."""
    join = sa.and_ if box.west <= box.east else sa.or_
    return [
        table.c.south <= box.north,
        table.c.north >= box.south,
        join(table.c.west <= box.east, table.c.east >= box.west),
    ]
