"""people and releases"""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _erasures()
    _people()
    _releases()


def _erasures() -> None:
    op.create_table(
        "erasures",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("people", sa.Integer(), nullable=False),
        sa.Column("releases", sa.Integer(), nullable=False),
        sa.Column("cleaned", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_erasures")),
        sqlite_autoincrement=True,
    )


def _people() -> None:
    op.create_table(
        "people",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("workshop_id", sa.Integer(), nullable=False),
        sa.Column("part", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("contact", sa.Text(), nullable=False),
        sa.Column("emergency_contact", sa.Text(), nullable=False),
        sa.Column("access_needs", sa.Text(), nullable=False),
        sa.Column("experience", sa.Text(), nullable=False),
        sa.Column("camera_system", sa.Text(), nullable=False),
        sa.Column("picture_consent", sa.Text(), nullable=False),
        sa.Column("stands_in", sa.Boolean(), nullable=False),
        sa.Column("adult", sa.Text(), nullable=False),
        sa.Column("guardian", sa.Text(), nullable=False),
        sa.Column("guardian_consent", sa.Text(), nullable=False),
        sa.Column("guardian_present", sa.Text(), nullable=False),
        sa.Column("owed_fee", sa.Text(), nullable=False),
        sa.Column("owed_travel", sa.Text(), nullable=False),
        sa.Column("paid_on", sa.Date(), nullable=True),
        sa.Column("owed_pictures", sa.Integer(), nullable=True),
        sa.Column("owed_from", sa.Text(), nullable=False),
        sa.Column("owed_by", sa.Date(), nullable=True),
        sa.Column("owed_route", sa.Text(), nullable=False),
        sa.Column("delivered_on", sa.Date(), nullable=True),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("erase_after", sa.Date(), nullable=True),
        sa.Column("erased_on", sa.Date(), nullable=True),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f("fk_people_workshop_id_workshops"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_people")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_people_workshop_id"), "people", ["workshop_id"], unique=False)


def _releases() -> None:
    op.create_table(
        "releases",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("workshop_id", sa.Integer(), nullable=True),
        sa.Column("person_id", sa.Integer(), nullable=True),
        sa.Column("signed_on", sa.Date(), nullable=False),
        sa.Column("by_whom", sa.Text(), nullable=False),
        sa.Column("for_whom", sa.Text(), nullable=False),
        sa.Column("uses", sa.JSON(none_as_null=True), nullable=False),
        sa.Column("lies_at", sa.Text(), nullable=False),
        sa.Column("keep_until", sa.Date(), nullable=True),
        sa.Column("deleted_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(
            ["workshop_id"], ["workshops.id"], name=op.f("fk_releases_workshop_id_workshops"), ondelete="SET NULL"
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["people.id"], name=op.f("fk_releases_person_id_people"), ondelete="SET NULL"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_releases")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_releases_person_id"), "releases", ["person_id"], unique=False)
    op.create_index(op.f("ix_releases_workshop_id"), "releases", ["workshop_id"], unique=False)
