"""Tables of the rules: areas, rules, enquiries with their steps and files, papers, workshops.

Columns are named like the fields of the dataclasses. What an enquiry or a workshop names stays on record as long as it.
"""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from models.rules.footprint import Doing
from models.store.types import AsJson, NestedTuple, UtcDateTime, metadata


def _table(name: str, *parts: sa.schema.SchemaItem) -> sa.Table:
    return sa.Table(
        name,
        metadata,
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("version", sa.Integer, nullable=False),
        *parts,
        sa.Column("deleted_at", UtcDateTime),
        sqlite_autoincrement=True,  # an old link, or an alarm in a calendar, never leads to another thing
    )


def _text(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text, nullable=False)


def _yes(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Boolean, nullable=False)


def _link(name: str, to: str, gone: str, *, nullable: bool = True) -> sa.Column[Any]:
    return sa.Column(name, sa.ForeignKey(f"{to}.id", ondelete=gone), nullable=nullable, index=True)


areas = _table(
    "areas",
    _text("name"),
    _text("name_key"),
    _text("kind"),
    _text("authority"),
    sa.Column("shape", NestedTuple, nullable=False),
    *(sa.Column(side, sa.Float, nullable=False) for side in ("south", "west", "north", "east")),
    _text("contact"),
    _text("web"),
    _yes("no_passing"),
    _text("holidays"),
    _text("notes"),
    sa.Index(None, "south", "north", "west", "east"),
    sa.Index(None, "name_key", "id"),
)

rules = _table(
    "rules",
    _link("area_id", "areas", "CASCADE"),
    _link("spot_id", "spots", "CASCADE"),
    _text("activity"),
    _text("found"),
    sa.Column("over", sa.Integer),
    sa.Column("width_min_m", sa.Float),
    sa.Column("from_time", sa.Time),
    sa.Column("to_time", sa.Time),
    sa.Column("weekdays", NestedTuple, nullable=False),
    sa.Column("first_day", sa.Date),
    sa.Column("last_day", sa.Date),
    _text("conditions"),
    sa.Column("lead_days", sa.Integer),
    _yes("lead_working"),
    _text("fee"),
    _text("insurance"),
    _text("source_title"),
    _text("source_section"),
    _text("source_link"),
    _yes("spoken"),
    _text("read_by"),
    sa.Column("checked_on", sa.Date, nullable=False),
    sa.Column("check_again", sa.Date),
    sa.CheckConstraint("(area_id IS NULL) <> (spot_id IS NULL)", name="one_place"),
)

enquiries = _table(
    "enquiries",
    _text("to_whom"),
    _link("area_id", "areas", "SET NULL"),
    _link("spot_id", "spots", "SET NULL"),
    _link("workshop_id", "workshops", "SET NULL"),
    _text("contact"),
    sa.Column("activities", NestedTuple, nullable=False),
    sa.Column("first_day", sa.Date),
    sa.Column("last_day", sa.Date),
    sa.Column("from_time", sa.Time),
    sa.Column("to_time", sa.Time),
    sa.Column("people", sa.Integer),
    _text("state"),
    sa.Column("sent_on", sa.Date),
    sa.Column("answered_on", sa.Date),
    _text("reference"),
    sa.Column("valid_from", sa.Date),
    sa.Column("valid_to", sa.Date),
    _text("conditions"),
    _text("notes"),
)

steps = sa.Table(
    "enquiry_steps",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _link("enquiry_id", "enquiries", "CASCADE", nullable=False),
    sa.Column("at", UtcDateTime, nullable=False),
    _text("state"),
    _text("note"),
    sa.Column("before", sa.JSON(none_as_null=True)),
)

files = sa.Table(
    "enquiry_files",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _link("enquiry_id", "enquiries", "CASCADE", nullable=False),
    sa.Column("added_at", UtcDateTime, nullable=False),
    _text("name"),
    _text("kind"),
    sa.Column("size_bytes", sa.Integer, nullable=False),
    sa.Column("data", sa.LargeBinary, nullable=False),
    sqlite_autoincrement=True,
)

calendar = sa.Table(
    "calendar",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    _text("about"),
    _text("uid"),
    sa.Column("sequence", sa.Integer, nullable=False),
    sa.Column("day", sa.Date, nullable=False),
    _text("title"),
    _text("description"),
    sa.Column("settled_on", sa.Date),
    sa.UniqueConstraint("about"),
    sa.UniqueConstraint("uid"),
)

papers = _table(
    "papers",
    _text("kind"),
    _text("title"),
    _text("reference"),
    _text("insured_sum"),
    sa.Column("valid_from", sa.Date),
    sa.Column("valid_to", sa.Date),
    sa.Column("covers_teaching", sa.Boolean),
    sa.Column("covers_models", sa.Boolean),
    sa.Column("count", sa.Integer),
    _text("where"),
    _text("notes"),
)

workshops = _table(
    "workshops",
    _text("title"),
    _link("spot_id", "spots", "RESTRICT", nullable=False),
    sa.Column("starts", UtcDateTime, nullable=False),
    sa.Column("ends", UtcDateTime, nullable=False),
    sa.Column("doing", AsJson(Doing), nullable=False),
    sa.Column("width_left_m", sa.Float),
    _link("fallback_spot_id", "spots", "RESTRICT"),
    sa.Column("meeting_point", NestedTuple),
    _yes("called_off"),
    sa.Index(None, "starts", "id"),
)
