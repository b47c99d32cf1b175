"""widths asked for and what draws people"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

PLACES = (("area_id_areas", "areas"), ("spot_id_spots", "spots"))


def upgrade() -> None:
    with op.batch_alter_table("rules", recreate="always", table_kwargs={"sqlite_autoincrement": True}) as rules:
        rules.add_column(sa.Column("width_min_m", sa.Float(), nullable=True), insert_after="over")
        # put back in the order of the tables, which a rebuilt table does not keep of itself
        for name, kind in (("ck_rules_one_place", "check"), *((f"fk_rules_{n}", "foreignkey") for n, _ in PLACES)):
            rules.drop_constraint(op.f(name), type_=kind)
        rules.create_check_constraint(op.f("ck_rules_one_place"), "(area_id IS NULL) <> (spot_id IS NULL)")
        for name, place in PLACES:
            column = [f"{place.removesuffix('s')}_id"]
            rules.create_foreign_key(op.f(f"fk_rules_{name}"), place, column, ["id"], ondelete="CASCADE")
    op.create_table(
        "hints",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("latitude_deg", sa.Float(), nullable=False),
        sa.Column("longitude_deg", sa.Float(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_hints_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hints")),
    )
    op.create_index(op.f("ix_hints_latitude_deg_longitude_deg"), "hints", ["latitude_deg", "longitude_deg"])
