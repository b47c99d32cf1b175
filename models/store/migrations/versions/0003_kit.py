"""kit"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "flashes",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("guide_numbers", sa.JSON(), nullable=False),
        sa.Column("measured", sa.Boolean(), nullable=False),
        sa.Column("lowest_power", sa.Float(), nullable=False),
        sa.Column("recycle_full_s", sa.Float(), nullable=False),
        sa.Column("clean_sync_s", sa.Float(), nullable=False),
        sa.Column("hss_loss_stops", sa.Float(), nullable=True),
        sa.Column("beam_note", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_flashes")),
        sa.UniqueConstraint("id", name=op.f("uq_flashes_id")),
    )
    op.create_table(
        "modifiers",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("loss_stops", sa.Float(), nullable=False),
        sa.Column("measured_zoom_mm", sa.Float(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_modifiers")),
        sa.UniqueConstraint("id", name=op.f("uq_modifiers_id")),
    )
    op.create_table(
        "cameras",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("sync_s", sa.Float(), nullable=False),
        sa.Column("base_iso", sa.Integer(), nullable=False),
        sa.Column("min_shutter_s", sa.Float(), nullable=False),
        sa.Column("widest_aperture", sa.Float(), nullable=False),
        sa.Column("smallest_aperture", sa.Float(), nullable=False),
        sa.Column("highest_iso", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_cameras")),
        sa.UniqueConstraint("id", name=op.f("uq_cameras_id")),
    )
    op.create_table(
        "triggers",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("sync_s", sa.Float(), nullable=False),
        sa.Column("passes_hss", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_triggers")),
        sa.UniqueConstraint("id", name=op.f("uq_triggers_id")),
    )
    op.create_table(
        "battery_sets",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("full_flashes", sa.Integer(), nullable=False),
        sa.Column("recycle_factor", sa.Float(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_battery_sets")),
        sa.UniqueConstraint("id", name=op.f("uq_battery_sets_id")),
    )
