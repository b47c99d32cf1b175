"""a step of an enquiry can be taken back; entries of the calendar file keep their number"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("enquiry_steps", recreate="always") as steps:
        steps.add_column(sa.Column("before", sa.JSON(), nullable=True))
    op.create_table(
        "calendar",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("description", sa.Text(), nullable=False),
        sa.Column("settled_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_calendar")),
        sa.UniqueConstraint("about", name=op.f("uq_calendar_about")),
        sa.UniqueConstraint("uid", name=op.f("uq_calendar_uid")),
    )
