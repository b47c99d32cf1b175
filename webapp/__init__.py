"""Pages only: read input, call one planning function, render."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Flask
from flask_compress import Compress

from models.planning.kit import begin_with_kit
from models.store.engine import Store, open_store, upgrade
from webapp import address, answering, config, errors, marks, security


def create_app(store_or_url: Store | str | None = None, *, config_changes: Mapping[str, Any] | None = None) -> Flask:
    """The application on a store, a database address, or (None) the database the environment names."""
    app = Flask(__name__)
    app.config.from_mapping(config.defaults())
    app.config.update(config_changes or {})
    app.config["SECRET_KEY"] = app.config["SECRET_KEY"] or config.kept_secret()
    app.extensions["kerbstand"] = _opened(store_or_url or config.database_url())
    app.json = answering.PlainJson(app)
    for part in (security, errors, address, answering, marks):
        part.init_app(app)
    Compress(app)
    _register_pages(app)
    return app


def _opened(store_or_url: Store | str) -> Store:
    if isinstance(store_or_url, Store):
        return store_or_url
    store = open_store(store_or_url)
    upgrade(store)
    begin_with_kit(store)
    return store


def _register_pages(app: Flask) -> None:
    from webapp import (
        account,
        briefing,
        deadlines,
        enquiries,
        house,
        kit,
        maps,
        papers,
        people,
        rules,
        running,
        settings,
        setups,
        shared_briefing,
        spots,
        stations,
        street,
        workshops,
    )

    for part in (
        spots,
        maps,
        rules,
        workshops,
        running,
        briefing,
        shared_briefing,
        stations,
        enquiries,
        papers,
        people,
        deadlines,
        kit,
        street,
        setups,
        settings,
        account,
        house,
    ):
        app.register_blueprint(part.pages)
