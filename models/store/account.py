"""Who gets in: one passphrase, links that work once to choose it, and where somebody is signed in.

Of passphrase, link and signed-in browser only a hash is kept. Nothing here reads the clock or makes a secret.
"""

from __future__ import annotations

import sqlalchemy as sa

from models.store.types import UtcDateTime, metadata

account = sa.Table(
    "account",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("passphrase_hash", sa.Text),
    sa.Column("passphrase_set_at", UtcDateTime),
    sa.Column("address", sa.Text),
    sa.CheckConstraint("id = 1", name="only_one"),
)
"""One row at most. address: where the program last answered, for links made in the terminal."""

links = sa.Table(
    "sign_in_links",
    metadata,
    sa.Column("token_hash", sa.Text, primary_key=True),
    sa.Column("made_at", UtcDateTime, nullable=False),
    sa.Column("ends_at", UtcDateTime, nullable=False),
)

sign_ins = sa.Table(
    "sign_ins",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("token_hash", sa.Text, nullable=False),
    sa.Column("began_at", UtcDateTime, nullable=False),
    sa.Column("seen_at", UtcDateTime, nullable=False),
    sa.Column("browser", sa.Text, nullable=False),
    sa.UniqueConstraint("token_hash"),
    sqlite_autoincrement=True,
)
