"""what was noted at the spot when a hazards sheet was kept"""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table(
        "hazard_sheets", recreate="always", table_kwargs={"sqlite_autoincrement": True}
    ) as batch_op:
        batch_op.add_column(sa.Column("noted", sa.Text(), nullable=True), insert_after="filled")
