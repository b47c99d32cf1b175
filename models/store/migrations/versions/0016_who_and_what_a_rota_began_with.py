"""who and what a rota began with"""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "rota_starts",
        sa.Column("workshop_id", sa.Integer(), nullable=False),
        sa.Column("people", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("posts", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("group_size", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f("fk_rota_starts_workshop_id_workshops"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("workshop_id", name=op.f("pk_rota_starts")),
    )
