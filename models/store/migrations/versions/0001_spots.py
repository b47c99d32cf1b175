"""spots"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "spots",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.Column("latitude_deg", sa.Float(), nullable=False),
        sa.Column("longitude_deg", sa.Float(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("floor_m", sa.Float(), nullable=False),
        sa.Column("roof", sa.Text(), nullable=False),
        sa.Column("wall_surface", sa.Text(), nullable=False),
        sa.Column("wall_reflectance", sa.Float(), nullable=False),
        sa.Column("ground_surface", sa.Text(), nullable=False),
        sa.Column("ground_reflectance", sa.Float(), nullable=False),
        sa.Column("pavement_width_m", sa.Float(), nullable=True),
        sa.Column("footfall_note", sa.Text(), nullable=False),
        sa.Column("shade_note", sa.Text(), nullable=False),
        sa.Column("surface_note", sa.Text(), nullable=False),
        sa.Column("hazards", sa.Text(), nullable=False),
        sa.Column("facilities", sa.Text(), nullable=False),
        sa.Column("controller", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("turbidity", sa.Float(), nullable=False),
        sa.Column("lighting_class", sa.Text(), nullable=True),
        sa.Column("night_ev100", sa.Float(), nullable=True),
        sa.Column("looking_deg", sa.Float(), nullable=True),
        sa.Column("canopies", sa.JSON(), nullable=False),
        sa.Column("measured", sa.JSON(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.CheckConstraint("latitude_deg BETWEEN -90 AND 90", name=op.f("ck_spots_latitude")),
        sa.CheckConstraint("longitude_deg BETWEEN -180 AND 180", name=op.f("ck_spots_longitude")),
        sa.CheckConstraint("version >= 1", name=op.f("ck_spots_version")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_spots")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_spots_latitude_deg_longitude_deg", "spots", ["latitude_deg", "longitude_deg"])
    op.create_index("ix_spots_name_key_id", "spots", ["name_key", "id"])
