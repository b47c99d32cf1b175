"""rules"""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _areas()
    _rules()
    _workshops()
    _enquiries()
    _enquiry_steps()
    _enquiry_files()
    _papers()


def _areas() -> None:
    op.create_table(
        "areas",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("authority", sa.Text(), nullable=False),
        sa.Column("shape", sa.JSON(), nullable=False),
        sa.Column("south", sa.Float(), nullable=False),
        sa.Column("west", sa.Float(), nullable=False),
        sa.Column("north", sa.Float(), nullable=False),
        sa.Column("east", sa.Float(), nullable=False),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("web", sa.Text(), nullable=False),
        sa.Column("no_passing", sa.Boolean(), nullable=False),
        sa.Column("holidays", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_areas")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_areas_name_key_id", "areas", ["name_key", "id"])
    op.create_index("ix_areas_south_north_west_east", "areas", ["south", "north", "west", "east"])


def _rules() -> None:
    op.create_table(
        "rules",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("spot_id", sa.Integer(), nullable=True),
        sa.Column("activity", sa.Text(), nullable=False),
        sa.Column("found", sa.Text(), nullable=False),
        sa.Column("over", sa.Integer(), nullable=True),
        sa.Column("from_time", sa.Time(), nullable=True),
        sa.Column("to_time", sa.Time(), nullable=True),
        sa.Column("weekdays", sa.JSON(), nullable=False),
        sa.Column("first_day", sa.Date(), nullable=True),
        sa.Column("last_day", sa.Date(), nullable=True),
        sa.Column("conditions", sa.Text(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=True),
        sa.Column("lead_working", sa.Boolean(), nullable=False),
        sa.Column("fee", sa.Text(), nullable=False),
        sa.Column("insurance", sa.Text(), nullable=False),
        sa.Column("source_title", sa.Text(), nullable=False),
        sa.Column("source_section", sa.Text(), nullable=False),
        sa.Column("source_link", sa.Text(), nullable=False),
        sa.Column("spoken", sa.Boolean(), nullable=False),
        sa.Column("read_by", sa.Text(), nullable=False),
        sa.Column("checked_on", sa.Date(), nullable=False),
        sa.Column("check_again", sa.Date(), nullable=True),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.CheckConstraint("(area_id IS NULL) <> (spot_id IS NULL)", name=op.f("ck_rules_one_place")),
        sa.ForeignKeyConstraint(["area_id"], ["areas.id"], name=op.f("fk_rules_area_id_areas"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["spot_id"], ["spots.id"], name=op.f("fk_rules_spot_id_spots"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rules")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_rules_area_id", "rules", ["area_id"])
    op.create_index("ix_rules_spot_id", "rules", ["spot_id"])


def _workshops() -> None:
    op.create_table(
        "workshops",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("spot_id", sa.Integer(), nullable=False),
        sa.Column("starts", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ends", sa.DateTime(timezone=True), nullable=False),
        sa.Column("doing", sa.JSON(), nullable=False),
        sa.Column("width_left_m", sa.Float(), nullable=True),
        sa.Column("fallback_spot_id", sa.Integer(), nullable=True),
        sa.Column("meeting_point", sa.JSON(), nullable=True),
        sa.Column("called_off", sa.Boolean(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["spot_id"], ["spots.id"], name=op.f("fk_workshops_spot_id_spots"), ondelete="RESTRICT"
        ),
        sa.ForeignKeyConstraint(
            ["fallback_spot_id"], ["spots.id"], name=op.f("fk_workshops_fallback_spot_id_spots"), ondelete="RESTRICT"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_workshops")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_workshops_fallback_spot_id", "workshops", ["fallback_spot_id"])
    op.create_index("ix_workshops_spot_id", "workshops", ["spot_id"])
    op.create_index("ix_workshops_starts_id", "workshops", ["starts", "id"])


def _enquiries() -> None:
    op.create_table(
        "enquiries",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("to_whom", sa.Text(), nullable=False),
        sa.Column("area_id", sa.Integer(), nullable=True),
        sa.Column("spot_id", sa.Integer(), nullable=True),
        sa.Column("workshop_id", sa.Integer(), nullable=True),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("activities", sa.JSON(), nullable=False),
        sa.Column("first_day", sa.Date(), nullable=True),
        sa.Column("last_day", sa.Date(), nullable=True),
        sa.Column("from_time", sa.Time(), nullable=True),
        sa.Column("to_time", sa.Time(), nullable=True),
        sa.Column("people", sa.Integer(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("sent_on", sa.Date(), nullable=True),
        sa.Column("answered_on", sa.Date(), nullable=True),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=True),
        sa.Column("valid_to", sa.Date(), nullable=True),
        sa.Column("conditions", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["area_id"], ["areas.id"], name=op.f("fk_enquiries_area_id_areas"), ondelete="SET NULL"
        ),
        sa.ForeignKeyConstraint(
            ["spot_id"], ["spots.id"], name=op.f("fk_enquiries_spot_id_spots"), ondelete="SET NULL"
        ),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f("fk_enquiries_workshop_id_workshops"), ondelete="SET NULL"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_enquiries")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_enquiries_area_id", "enquiries", ["area_id"])
    op.create_index("ix_enquiries_spot_id", "enquiries", ["spot_id"])
    op.create_index("ix_enquiries_workshop_id", "enquiries", ["workshop_id"])


def _enquiry_steps() -> None:
    op.create_table(
        "enquiry_steps",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("enquiry_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["enquiry_id"], ["enquiries.id"], name=op.f("fk_enquiry_steps_enquiry_id_enquiries"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_enquiry_steps")),
    )
    op.create_index("ix_enquiry_steps_enquiry_id", "enquiry_steps", ["enquiry_id"])


def _enquiry_files() -> None:
    op.create_table(
        "enquiry_files",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("enquiry_id", sa.Integer(), nullable=False),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("data", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(
            ["enquiry_id"], ["enquiries.id"], name=op.f("fk_enquiry_files_enquiry_id_enquiries"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_enquiry_files")),
        sqlite_autoincrement=True,
    )
    op.create_index("ix_enquiry_files_enquiry_id", "enquiry_files", ["enquiry_id"])


def _papers() -> None:
    op.create_table(
        "papers",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("insured_sum", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=True),
        sa.Column("valid_to", sa.Date(), nullable=True),
        sa.Column("covers_teaching", sa.Boolean(), nullable=True),
        sa.Column("covers_models", sa.Boolean(), nullable=True),
        sa.Column("count", sa.Integer(), nullable=True),
        sa.Column("where", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_papers")),
        sqlite_autoincrement=True,
    )
