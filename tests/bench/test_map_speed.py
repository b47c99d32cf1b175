"""A map with 5,000 spots, served by the program itself in a process of its own, and the memory it takes in the end."""

import gzip
import os
import re
import subprocess
import sys
import urllib.request
from pathlib import Path
from time import perf_counter

import pytest

from models.exchange.geojson import read_buildings
from models.planning.demo import HAVENMARK, open_demo
from models.store.engine import open_store, upgrade
from models.store.spots import add_spots, list_spots
from models.store.town import replace_import
from models.street.spot import SpotDraft
from models.street.town import TownDraft

pytestmark = pytest.mark.bench

SPOTS = 5_000
MOMENT = "on=2026-10-17&at=16:40&sky=2"
WARM_ROUNDS = 60
SERVE = "import sys; from webapp.cli import main; sys.argv = ['kerbstand', 'serve', '--port', '0']; main()"


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    folder = tmp_path_factory.mktemp("map")
    url = f"sqlite:///{folder / 'own.sqlite3'}"
    _fill(url)
    environment = os.environ | {"KERBSTAND_DATABASE_URL": url, "HOME": str(folder), "XDG_DATA_HOME": str(folder)}
    process = subprocess.Popen(  # noqa: S603  our own server
        [sys.executable, "-u", "-c", SERVE], stdout=subprocess.PIPE, env=environment, text=True
    )
    assert process.stdout is not None
    address = next(found[0] for line in process.stdout if (found := re.search(r"http://[^/]+", line)))
    yield address, process.pid
    process.terminate()
    process.wait(10)
    process.stdout.close()


def test_a_map_with_5000_spots(server, capsys):
    address, _ = server
    states = f"{address}/map/spots.geojson?{MOMENT}&bbox=5.20,52.50,5.26,52.56"
    cold_s = fetch(states)[0]
    for _ in range(WARM_ROUNDS):
        page, shown = fetch(f"{address}/?{MOMENT}")[1], fetch(states)[1]
        if b"being worked out" not in page and b'"pending":0' in shown.replace(b" ", b""):
            break
    list_s, page, _ = min(fetch(f"{address}/?{MOMENT}") for _ in range(5))
    states_s, shown, squeezed = min(fetch(states) for _ in range(5))
    with capsys.disabled():
        print(f"\nlist page, {SPOTS} spots | {len(page) / 1000:.0f} kB, {list_s:.3f} s warm | 150 kB, 0.3 s")
        row = f"states of {SPOTS} spots in view | {states_s:.3f} s warm, first answer {cold_s:.1f} s"
        print(f"{row}, {squeezed / 1000:.0f} kB compressed | 0.3 s")
        print(f"memory then {peak_mb(server[1]):.0f} MB")
    assert len(page) < 150_000
    assert list_s < 0.3
    assert shown.count(b'"Point"') == SPOTS


def test_memory_after_a_long_day(server, capsys):
    address, pid = server
    for number in range(1, 21):
        fetch(f"{address}/spots/{number}?{MOMENT}&looking=90")
    fetch(f"{address}/spots/1/times?from=2026-10-01&to=2026-10-28")
    fetch(f"{address}/times?from=2026-10-17&to=2026-10-18")
    peak = peak_mb(pid)
    with capsys.disabled():
        print(f"\npeak memory of the server after lists, maps, 20 spot pages and times | {peak:.0f} MB | 500 MB")
    assert peak < 500


def peak_mb(pid):
    """The most memory that a process ever held, as the kernel counts it (VmHWM)."""
    found = re.search(r"VmHWM:\s+(\d+)", Path(f"/proc/{pid}/status").read_text())
    assert found
    return int(found[1]) / 1024


def fetch(url):
    """Seconds, the body, and the bytes that came over the wire."""
    start = perf_counter()
    request = urllib.request.Request(url, headers={"Accept-Encoding": "gzip"})  # noqa: S310  loopback
    with urllib.request.urlopen(request, timeout=120) as answer:  # noqa: S310
        wire = answer.read()
        squeezed = answer.headers.get("Content-Encoding") == "gzip"
    return perf_counter() - start, gzip.decompress(wire) if squeezed else wire, len(wire)


def _fill(url):
    """Havenmark's houses, and its ten spots again and again, each a little aside."""
    store = open_store(url)
    upgrade(store)
    demo = open_demo(Path(store.engine.url.database).parent / "demo.sqlite3", HAVENMARK)
    with demo.reading() as s:
        own = list_spots(s)
    town = TownDraft(read_buildings(HAVENMARK / "buildings.geojson").buildings, attribution="Havenmark, invented")
    with store.writing() as s:
        replace_import(s, "Havenmark", town)
        add_spots(s, [_aside(own[k % len(own)].draft, k) for k in range(SPOTS)])
    store.close()


def _aside(draft: SpotDraft, k: int) -> SpotDraft:
    values = {name: getattr(draft, name) for name in SpotDraft.__dataclass_fields__}
    step = (k // 10) * 1e-7
    moved = {"name": f"{draft.name} {k}", "latitude_deg": draft.latitude_deg + step}
    return SpotDraft(**values | moved)
