"""stations, plans and happenings of workshops"""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

SECONDS = ("pose_s", "handover_s", "move_s", "wide_s", "gap_s")
MINUTES = (
    "meet_min", "drink_min", "setup_min", "safety_min", "group_picture_min", "pack_min", "release_min", "decide_min",
)  # fmt: skip


def upgrade() -> None:
    _happenings()
    _plans()
    _stations()


def _happenings() -> None:
    op.create_table(
        "happenings",
        *_first("happenings"),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("about", sa.Integer(), nullable=True),
        sa.Column("round", sa.Integer(), nullable=False),
        sa.Column("turn", sa.Integer(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        *_last(),
        sqlite_autoincrement=True,
    )
    with op.batch_alter_table("happenings", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_happenings_workshop_id_at_id"), ["workshop_id", "at", "id"], unique=False)


def _plans() -> None:
    op.create_table(
        "plans",
        sa.UniqueConstraint("workshop_id", name=op.f("uq_plans_workshop_id")),
        *_first("plans"),
        sa.Column("group_size", sa.Integer(), nullable=False),
        sa.Column("frames", sa.Integer(), nullable=True),
        *(sa.Column(name, sa.Float(), nullable=False) for name in (*SECONDS, *MINUTES)),
        sa.Column("walk_min", sa.Float(), nullable=True),
        sa.Column("pace_m_s", sa.Float(), nullable=False),
        sa.Column("test_flashes", sa.Integer(), nullable=False),
        sa.Column("meets_by", sa.Text(), nullable=False),
        sa.Column("indoors", sa.Text(), nullable=False),
        sa.Column("fallback_ids", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("talks", sa.Text(), nullable=False),
        sa.Column("ambulance", sa.Text(), nullable=False),
        sa.Column("language", sa.Text(), nullable=False),
        sa.Column("organiser_helps", sa.Boolean(), nullable=False),
        sa.Column("blocks", sa.JSON(), nullable=False),
        *_last(),
        sqlite_autoincrement=True,
    )


def _stations() -> None:
    op.create_table(
        "stations",
        *_first("stations"),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("setup_id", sa.Integer(), nullable=True),
        sa.Column("model_id", sa.Integer(), nullable=True),
        sa.Column("place", sa.JSON(none_as_null=True), nullable=True),
        sa.Column("looking_deg", sa.Float(), nullable=True),
        sa.Column("depth_m", sa.Float(), nullable=True),
        sa.Column("width_m", sa.Float(), nullable=True),
        sa.Column("holders", sa.Integer(), nullable=True),
        sa.Column("watchers", sa.Integer(), nullable=False),
        sa.Column("pose_s", sa.Float(), nullable=True),
        sa.Column("lesson", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        *_last(),
        sa.ForeignKeyConstraint(
            ["setup_id"], ["setups.id"], name=op.f("fk_stations_setup_id_setups"), ondelete="SET NULL"
        ),
        sqlite_autoincrement=True,
    )
    with op.batch_alter_table("stations", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_stations_setup_id"), ["setup_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_stations_workshop_id"), ["workshop_id"], unique=False)


def _first(table: str) -> tuple[sa.schema.SchemaItem, ...]:
    return (
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("workshop_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f(f"fk_{table}_workshop_id_workshops"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    )


def _last() -> tuple[sa.schema.SchemaItem, ...]:
    return (sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),)
