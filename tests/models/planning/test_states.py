"""States through a day, and the words at their turns."""

from datetime import date
from itertools import pairwise

import numpy as np

from models.planning.states import ORDER, day_runs, state_codes, turning_points
from models.store.spots import Spot
from models.street.scene import Building, pack_walls
from models.street.skyline import Skyline, skyline_of, sun_states

SPOT = Spot(id=1, version=1, name="Here", latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam")
WALL_IN_THE_SOUTH = Building((((-10.0, -12.0), (10.0, -12.0), (10.0, -10.0), (-10.0, -10.0)),), top_m=21.5)


def runs_on(day: date, skyline: Skyline, oktas: float = 0, lamps_known: bool = False):
    return day_runs(SPOT, skyline, day, oktas, -3.0, lamps_known)


def test_open_ground_is_sun_from_sunrise_to_sunset():
    runs = runs_on(date(2026, 10, 17), skyline_of(pack_walls(())))
    assert [run.state for run in runs] == ["dark", "dusk", "sun", "dusk", "dark"]
    assert [point.words for point in turning_points(runs, SPOT.zone)] == ["first light", "sunrise", "sunset", "dark"]


def test_a_wall_in_the_south_takes_the_midday_sun_in_october():
    """20 m over the eye at 10 m stands 63 degrees high, over the sun's 28 at noon."""
    runs = runs_on(date(2026, 10, 17), skyline_of(pack_walls([WALL_IN_THE_SOUTH])))
    assert "shade" in [run.state for run in runs]
    words = [point.words for point in turning_points(runs, SPOT.zone)]
    assert words.index("sunrise") < words.index("sun leaves") < words.index("sun arrives") < words.index("sunset")


def test_runs_cover_the_whole_day_without_gaps():
    runs = runs_on(date(2026, 3, 29), skyline_of(pack_walls([WALL_IN_THE_SOUTH])))
    assert all(before.end == after.start for before, after in pairwise(runs))
    assert (runs[-1].end - runs[0].start).total_seconds() == 23 * 3600


def test_known_lamps_come_on_at_lighting_up_time_and_never_by_day():
    runs = runs_on(date(2026, 10, 17), skyline_of(pack_walls(())), lamps_known=True)
    assert [run.state for run in runs] == ["lamps", "dusk", "sun", "dusk", "lamps"]


def test_a_closed_sky_has_no_sun():
    runs = runs_on(date(2026, 6, 17), skyline_of(pack_walls(())), oktas=8)
    assert "sun" not in [run.state for run in runs]


def test_states_of_single_instants_agree_with_the_run():
    skyline = skyline_of(pack_walls(()))
    sun = sun_states(skyline, np.array([30.0, -3.5, -9.0]), np.full(3, 180.0), 10)
    codes = state_codes(sun, np.array([30.0, -3.5, -9.0]), 0, -3.0, lamps_known=False)
    assert [ORDER[code] for code in codes] == ["sun", "dusk", "dark"]
