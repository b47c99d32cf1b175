"""A year of one spot at quarter hours: position, skyline, light on the subject and behind it, reserve. Part by part."""

from time import process_time

import numpy as np
import pytest
from astral import Observer
from astral.sun import zenith_and_azimuth

from models.clock import from_unix_s
from models.exchange.osm import read_osm
from models.light.flash import Camera, Choice, Flash, reserve_series
from models.light.subject import light_over
from models.light.transport import coefficients
from models.planning.demo import HAVENMARK, open_demo
from models.planning.scenes import scene_of
from models.sky.daylight import open_sky
from models.sky.sun import sun_positions
from models.store.engine import open_store, upgrade
from models.store.spots import Spot, list_spots
from models.store.town import replace_import
from models.street.skyline import skyline_of, sun_states
from models.units import ev100_from_illuminance, ev100_from_luminance
from tests.models.exchange.test_osm import HELSINKI

pytestmark = pytest.mark.bench

INSTANTS = 35_040
UNIX_S = 1_767_225_600 + 900.0 * np.arange(INSTANTS)
CHOICE = Choice(flash=Flash("small", "small flash", ((24.0, 20.0),)), camera=Camera("body", "camera"))
LOOKING = (270.0,)
RUNS = 5


@pytest.fixture(scope="module")
def havenmark(tmp_path_factory):
    store = open_demo(tmp_path_factory.mktemp("demo") / "demo.sqlite3", HAVENMARK)
    with store.reading() as s:
        return [(spot, scene_of(s, spot).scene) for spot in list_spots(s)]


@pytest.fixture(scope="module")
def helsinki(tmp_path_factory):
    store = open_store(f"sqlite:///{tmp_path_factory.mktemp('helsinki') / 'h.sqlite3'}")
    upgrade(store)
    with store.writing() as s:
        replace_import(s, "helsinki", read_osm(HELSINKI).town)
    places = {"Esplanadi": (60.16755, 24.9465), "railway square": (60.1712, 24.9440)}
    found = []
    with store.reading() as s:
        for number, (name, (latitude, longitude)) in enumerate(places.items(), 1):
            place = {"latitude_deg": latitude, "longitude_deg": longitude, "zone": "Europe/Helsinki"}
            spot = Spot(id=number, version=1, name=name, **place)
            found.append((spot, scene_of(s, spot).scene))
    return found


@pytest.mark.parametrize(
    ("town", "nothing_s", "stored_s"), [("havenmark", 0.15, 0.10), ("helsinki", 0.5, 0.2)], ids=["demo", "Helsinki"]
)
def test_a_year_of_a_spot(town, nothing_s, stored_s, request, capsys):
    spots = request.getfixturevalue(town)
    loop_s = astral_loop_s(spots[0][0])
    table = [parts_of_a_year(spot, scene) for spot, scene in spots]
    names = list(table[0])
    median = {name: float(np.median([row[name] for row in table])) for name in names}
    geometry_s = median["geometry"] + median["skyline"]
    whole_s = sum(median.values())
    with capsys.disabled():
        print(f"\n{town}: " + ", ".join(f"{name} {1000 * median[name]:.0f} ms" for name in names))
        row = f"year of a spot, {town}, processor time, median of {len(spots)} | from nothing {whole_s:.3f} s, "
        row += f"geometry stored {whole_s - geometry_s:.3f} s | {nothing_s} s, {stored_s} s"
        print(f"{row} | an astral loop of the positions alone takes {loop_s / whole_s:.1f} times as long")
    assert np.isfinite(whole_s)
    assert whole_s - geometry_s <= stored_s
    assert whole_s <= nothing_s


def parts_of_a_year(spot, scene):
    """Best of a few runs of each part, seconds of processor time."""
    best: dict[str, float] = {}
    for _ in range(RUNS):
        for name, seconds in one_run(spot, scene).items():
            best[name] = min(best.get(name, seconds), seconds)
    return best


def one_run(spot, scene):
    times, start = {}, process_time()

    def lap(name):
        nonlocal start
        times[name], start = process_time() - start, process_time()

    fixed = coefficients(scene)
    lap("geometry")
    skyline = skyline_of(scene.walls, scene.canopies, spot.measured)
    lap("skyline")
    elevation, azimuth = sun_positions(UNIX_S, spot.latitude_deg, spot.longitude_deg)
    lap("positions")
    sun = sun_states(skyline, elevation, azimuth, 6)
    lap("sun states")
    sky = open_sky(elevation, 2.0)
    lap("open sky")
    light = light_over(fixed, elevation, azimuth, sky, 2.0, sun.transmittance, 0.0, LOOKING)
    lap("light")
    face, behind = ev100_from_illuminance(light.illuminance_lx[:, 2]), ev100_from_luminance(light.backdrop_cd_m2[:, 0])
    stops = reserve_series(CHOICE, face, behind)
    lap("reserve")
    assert stops.shape == (INSTANTS,)
    return times


def astral_loop_s(spot):
    """Positions alone, one by one, for a tenth of the year, times ten."""
    observer = Observer(spot.latitude_deg, spot.longitude_deg)
    start = process_time()
    for at in UNIX_S[::10]:
        zenith_and_azimuth(observer, from_unix_s(at))
    return 10 * (process_time() - start)
