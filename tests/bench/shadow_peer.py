"""Run by the python of the peer's own environment, never by ours: times pybdshadow on the town in a JSON file.

    python shadow_peer.py TOWN.json     {"instant", "outlines": [[[lon, lat], ...], ...], "tops_m", "metres_per_degree"}

Prints JSON: processor seconds (best of the runs), the sun it worked with, area_m2 of the union of its shadows.
"""

import datetime
import json
import math
import sys
import time
import warnings

warnings.filterwarnings("ignore")

import geopandas  # noqa: E402
import pybdshadow  # noqa: E402
import shapely  # noqa: E402
from suncalc import get_position  # noqa: E402

RUNS = 3


def main(path):
    with open(path) as file:
        town = json.load(file)
    instant = datetime.datetime.fromisoformat(town["instant"])
    frame = geopandas.GeoDataFrame(
        {"building_id": range(len(town["tops_m"])), "height": town["tops_m"]},
        geometry=[shapely.Polygon(outline) for outline in town["outlines"]],
        crs="EPSG:4326",
    )
    seconds = []
    for _ in range(RUNS):
        started = time.process_time()
        shadows = pybdshadow.bdshadow_sunlight(frame, instant)
        seconds.append(time.process_time() - started)
    west, south, east, north = frame.bounds.mean()
    sun = get_position(instant, (west + east) / 2, (south + north) / 2)
    north_m, east_m = town["metres_per_degree"]
    union = shapely.union_all(shadows.geometry.values)
    print(
        json.dumps(
            {
                "seconds": min(seconds),
                "elevation_deg": math.degrees(sun["altitude"]),
                "azimuth_deg": math.degrees(sun["azimuth"]) + 180,
                "area_m2": union.area * north_m * east_m,
            }
        )
    )


if __name__ == "__main__":
    main(sys.argv[1])
