"""Areas from a file through the page: looked into, refused by name, kept on another press."""

from __future__ import annotations

import html
import io
import json
import re

import pytest

from models.exchange.areas import areas_collection
from models.planning.rules.areas import all_areas
from tests.models.planning.rules.town import HOSTILE, area, square


def upload(client, data, **more):
    form = {"file": (io.BytesIO(data), "areas.geojson"), "csrf_token": client.token()} | more
    return client.post("/rules/import", data=form, content_type="multipart/form-data")


def as_file(*drafts):
    return json.dumps(areas_collection(drafts)).encode()


def carried(page):
    return html.unescape(re.search(r'<textarea name="text"[^>]*>([^<]*)</textarea>', page)[1])


def test_a_file_is_looked_into_and_kept_on_another_press(client, store):
    seen = upload(client, as_file(area(), area(name="Old quay", kind="waterfront")))
    assert seen.status_code == 200
    assert "2 areas can come in. Nothing is kept yet." in seen.text
    assert all_areas(store) == ()
    kept = client.send("/rules/areas/bringing-in", {"text": carried(seen.text)})
    assert (kept.status_code, kept.headers["Location"]) == (303, "/rules")
    assert "2 areas brought in. No rule came with them." in client.get("/rules").text
    assert [one.name for one in all_areas(store)] == ["Corn Square", "Old quay"]
    assert all_areas(store)[0].shape == square()


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "Choose a GeoJSON file first"),
        (b"  \n", "Choose a GeoJSON file first"),
        (b"not json", "is not JSON"),
        (b"\xff\xfe\x00", "is not UTF-8 text"),
        (b'{"type": "Topology"}', "a FeatureCollection is wanted"),
        (b'{"type": "FeatureCollection", "features": [3]}', "is not a GeoJSON Feature"),
        (as_file(area(kind="public_street")).replace(b"public_street", b"palace"), "kind 'palace' is not known"),
        (as_file(area()).replace(b"52.52", b"952.52"), "longitude and latitude"),
        (as_file(area()).replace(b'"Polygon"', b'"Point"'), "is a 'Point'"),
    ],
)
def test_a_broken_file_is_refused_by_name_and_nothing_is_kept(client, store, data, message):
    refused = upload(client, data)
    assert refused.status_code == 422
    assert message in html.unescape(refused.text)
    assert "bringing-in" not in refused.text
    assert all_areas(store) == ()


def test_no_file_at_all_is_said(client):
    refused = client.send("/rules/import", {})
    assert refused.status_code == 422
    assert "Choose a GeoJSON file first." in refused.text


def test_kind_and_authority_may_be_said_for_all(client, store):
    bare = areas_collection([area()])
    del bare["features"][0]["properties"]["kind"]
    data = json.dumps(bare).encode()
    assert "has no kind" in upload(client, data).text
    assert upload(client, data, kind="palace").status_code == 422
    seen = upload(client, data, kind="park")
    assert "park; Council" in html.unescape(seen.text)
    client.send("/rules/areas/bringing-in", {"text": carried(seen.text), "kind": "park"})
    assert all_areas(store)[0].kind == "park"


def test_what_is_carried_on_is_read_anew(client, store):
    refused = client.send("/rules/areas/bringing-in", {"text": "{"})
    assert refused.status_code == 422
    assert "is not JSON" in refused.text
    assert client.send("/rules/areas/bringing-in", {}).status_code == 422
    assert all_areas(store) == ()


def test_a_hostile_file_is_text(client):
    seen = upload(client, as_file(area(name=HOSTILE, authority=HOSTILE))).text
    assert "<img src=x" not in seen
    assert "can come in" in seen
    refused = upload(client, as_file(area(name=HOSTILE)).replace(b"public_street", HOSTILE.encode())).text
    assert "<img src=x" not in refused


def test_what_is_there_already_is_said(client, store):
    data = as_file(area())
    client.send("/rules/areas/bringing-in", {"text": data.decode()})
    seen = upload(client, data).text
    assert "The area of the file is there already." in seen
    assert "there already, stays as it is" in seen
    assert "bringing-in" not in seen
