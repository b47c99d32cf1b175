"""setups of lights"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "setups",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("camera", sa.Text(), nullable=False),
        sa.Column("trigger", sa.Text(), nullable=False),
        sa.Column("settings", sa.JSON(), nullable=False),
        sa.Column("wanted", sa.JSON(), nullable=False),
        sa.Column("surroundings_under", sa.Float(), nullable=False),
        sa.Column("face_under", sa.Float(), nullable=False),
        sa.Column("camera_m", sa.Float(), nullable=False),
        sa.Column("lens_mm", sa.Float(), nullable=False),
        sa.Column("lights", sa.JSON(), nullable=False),
        sa.Column("tries", sa.JSON(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_setups")),
        sqlite_autoincrement=True,
    )
