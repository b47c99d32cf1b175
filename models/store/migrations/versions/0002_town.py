"""town"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "imports",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("attribution", sa.Text(), nullable=False),
        sa.Column("buildings", sa.Integer(), nullable=False),
        sa.Column("assumed_buildings", sa.Integer(), nullable=False),
        sa.Column("trees", sa.Integer(), nullable=False),
        sa.Column("footways", sa.Integer(), nullable=False),
        sa.Column("lamps", sa.Integer(), nullable=False),
        sa.Column("south", sa.Float(), nullable=True),
        sa.Column("west", sa.Float(), nullable=True),
        sa.Column("north", sa.Float(), nullable=True),
        sa.Column("east", sa.Float(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_imports")),
        sa.UniqueConstraint("name", name=op.f("uq_imports_name")),
    )
    op.create_table(
        "buildings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("rings", sa.JSON(), nullable=False),
        sa.Column("top_m", sa.Float(), nullable=False),
        sa.Column("bottom_m", sa.Float(), nullable=False),
        sa.Column("height_source", sa.Text(), nullable=False),
        sa.Column("doubt_m", sa.Float(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("south", sa.Float(), nullable=False),
        sa.Column("west", sa.Float(), nullable=False),
        sa.Column("north", sa.Float(), nullable=False),
        sa.Column("east", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_buildings_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_buildings")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_buildings_south_north_west_east", "buildings", ["south", "north", "west", "east"])
    op.create_table(
        "wall_tiles",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("south", sa.Float(), nullable=False),
        sa.Column("west", sa.Float(), nullable=False),
        sa.Column("north", sa.Float(), nullable=False),
        sa.Column("east", sa.Float(), nullable=False),
        sa.Column("walls", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_wall_tiles_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wall_tiles")),
    )
    op.create_index("ix_wall_tiles_south_north_west_east", "wall_tiles", ["south", "north", "west", "east"])
    op.create_table(
        "trees",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("latitude_deg", sa.Float(), nullable=False),
        sa.Column("longitude_deg", sa.Float(), nullable=False),
        sa.Column("height_m", sa.Float(), nullable=False),
        sa.Column("crown_radius_m", sa.Float(), nullable=False),
        sa.Column("assumed", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_trees_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_trees")),
    )
    op.create_index("ix_trees_latitude_deg_longitude_deg", "trees", ["latitude_deg", "longitude_deg"])
    op.create_table(
        "footways",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("line", sa.JSON(), nullable=False),
        sa.Column("width_m", sa.Float(), nullable=True),
        sa.Column("surface", sa.Text(), nullable=True),
        sa.Column("lit", sa.Boolean(), nullable=True),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("south", sa.Float(), nullable=False),
        sa.Column("west", sa.Float(), nullable=False),
        sa.Column("north", sa.Float(), nullable=False),
        sa.Column("east", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_footways_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_footways")),
    )
    op.create_index("ix_footways_south_north_west_east", "footways", ["south", "north", "west", "east"])
    op.create_table(
        "lamps",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("import_id", sa.Integer(), nullable=False),
        sa.Column("latitude_deg", sa.Float(), nullable=False),
        sa.Column("longitude_deg", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["import_id"], ["imports.id"], name=op.f("fk_lamps_import_id_imports"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lamps")),
    )
    op.create_index("ix_lamps_latitude_deg_longitude_deg", "lamps", ["latitude_deg", "longitude_deg"])
