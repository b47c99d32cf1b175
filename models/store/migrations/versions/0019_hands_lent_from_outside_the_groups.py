"""hands lent from outside the groups"""

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("plans", schema=None) as batch_op:
        batch_op.add_column(sa.Column("lent", sa.Integer(), nullable=True))

    with op.batch_alter_table("rota_starts", schema=None) as batch_op:
        batch_op.add_column(sa.Column("lent", sa.Integer(), server_default="0", nullable=False))
