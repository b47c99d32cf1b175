"""data sheets of kit; gels, filters, stands; readings of flashes"""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("flashes", recreate="always") as flashes:
        flashes.add_column(sa.Column("heat", sa.JSON(), nullable=False, server_default="[]"), insert_after="beam_note")
        flashes.add_column(
            sa.Column("rungs_per_stop", sa.Integer(), nullable=False, server_default="3"), insert_after="heat"
        )
    with op.batch_alter_table("flashes", recreate="always") as flashes:
        flashes.alter_column("heat", server_default=None)
        flashes.alter_column("rungs_per_stop", server_default=None)
    with op.batch_alter_table("modifiers", recreate="always") as modifiers:
        modifiers.add_column(sa.Column("beam_deg", sa.Float(), nullable=True), insert_after="measured_zoom_mm")
        modifiers.add_column(sa.Column("face_m", sa.JSON(none_as_null=True), nullable=True), insert_after="beam_deg")
        modifiers.add_column(sa.Column("weight_kg", sa.Float(), nullable=True), insert_after="face_m")
    with op.batch_alter_table("triggers", recreate="always") as triggers:
        triggers.add_column(sa.Column("channels", sa.Integer(), nullable=True), insert_after="passes_hss")
    _accessories("gels", "loss_stops", "shift_mired")
    _accessories("filters", "stops")
    _accessories("stands", "highest_m", "across_m", "weight_kg")
    op.create_table(
        "flash_readings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("flash_id", sa.Text(), nullable=False),
        sa.Column("on", sa.Date(), nullable=False),
        sa.Column("distance_m", sa.Float(), nullable=False),
        sa.Column("aperture", sa.Float(), nullable=False),
        sa.Column("iso", sa.Float(), nullable=False),
        sa.Column("power", sa.Float(), nullable=False),
        sa.Column("zoom_mm", sa.Float(), nullable=True),
        sa.Column("modifier_id", sa.Text(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["flash_id"], ["flashes.id"], name=op.f("fk_flash_readings_flash_id_flashes")),
        sa.ForeignKeyConstraint(
            ["modifier_id"], ["modifiers.id"], name=op.f("fk_flash_readings_modifier_id_modifiers")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_flash_readings")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_flash_readings_flash_id"), "flash_readings", ["flash_id"])


def _accessories(table: str, *figures: str) -> None:
    op.create_table(
        table,
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        *(sa.Column(figure, sa.Float(), nullable=False) for figure in figures),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("retired", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f(f"pk_{table}")),
        sa.UniqueConstraint("id", name=op.f(f"uq_{table}_id")),
    )
