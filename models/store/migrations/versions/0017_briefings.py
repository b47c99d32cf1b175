"""texts and issued versions of briefings"""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "briefing_texts",
        sa.UniqueConstraint("workshop_id", name=op.f("uq_briefing_texts_workshop_id")),
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("workshop_id", sa.Integer(), nullable=True),
        sa.Column("texts", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f("fk_briefing_texts_workshop_id_workshops"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_briefing_texts")),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "briefing_versions",
        sa.Column("workshop_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(
            ["workshop_id"],
            ["workshops.id"],
            name=op.f("fk_briefing_versions_workshop_id_workshops"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("workshop_id", "number", name=op.f("pk_briefing_versions")),
    )
