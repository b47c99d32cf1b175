"""One answer, two forms: the page, and under .json the same figures."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date, datetime, time
from typing import Any

import numpy as np
from flask import Flask, Response, current_app, jsonify, make_response, render_template, request
from flask.json.provider import DefaultJSONProvider

from models.planning.spot_answers import Drawing
from models.store.engine import Store
from models.words.people import Private
from models.words.said import Said


class PlainJson(DefaultJSONProvider):
    """Dataclasses as objects, instants in ISO 8601, arrays as lists, sentences as text, drawings by their caption."""

    sort_keys = False

    @staticmethod
    def default(value: Any) -> Any:
        if isinstance(value, date | time):
            return value.isoformat()
        if isinstance(value, np.ndarray):
            return value.tolist()
        if isinstance(value, np.generic):
            return value.item()
        if isinstance(value, Said):
            return value.text
        if isinstance(value, Private):
            return value.told
        if isinstance(value, Drawing):
            return {"caption": value.caption}
        if is_dataclass(value) and not isinstance(value, type):
            return {field.name: getattr(value, field.name) for field in fields(value)}
        return DefaultJSONProvider.default(value)


def store() -> Store:
    """The store of the running app."""
    kept: Store = current_app.extensions["kerbstand"]
    return kept


def now() -> datetime:
    """This instant, UTC; the only place where pages meet the clock."""
    instant: datetime = current_app.config["CLOCK"]()
    return instant


def wants_json() -> bool:
    return request.path.endswith((".json", ".geojson"))


def answer(template: str, page: Any, *, status: int = 200, **values: Any) -> Response:
    """The planning answer `page` as a page, or as JSON where the address ends in .json."""
    if wants_json():
        response = jsonify(page)
        response.status_code = status
        return response
    return make_response(render_template(template, page=page, **values), status)


def geojson(collection: dict[str, Any]) -> Response:
    """A feature collection with its own media type (RFC 7946)."""
    response = jsonify(collection)
    response.mimetype = "application/geo+json"
    return response


def keep_nothing(response: Response) -> Response:
    """After every request of pages that tell of people: names and telephone numbers are left in no browser's store."""
    response.headers["Cache-Control"] = "no-store"
    return response


def init_app(app: Flask) -> None:
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
