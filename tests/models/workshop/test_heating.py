"""Hot flashes carried on from flash to flash hold the same limits as a list of all that was fired."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.accessories import HeatRow
from models.light.heat import Fired, wait_s
from models.light.kit import Flash
from models.light.setup import Light
from models.workshop.heating import Buckets

FLASH = Flash("f", "flash", ((24, 20),), heat=(HeatRow(1, 1 / 2, 6, 240), HeatRow(1 / 4, 1 / 128, 12, 240)))
ROOMY = Flash("r", "roomy flash", ((24, 20),), heat=(HeatRow(1, 1, 9, 300),))


def test_six_at_once_and_then_one_every_forty_seconds() -> None:
    hot = Buckets([Light(role="key", flash=FLASH, power=1)])
    assert [hot.fire(0) for _ in range(8)] == [0] * 6 + [40, 40 + 40]
    assert hot.copy().fire(1000) == 1000


def test_a_copy_warms_up_alone() -> None:
    hot = Buckets([Light(role="key", flash=FLASH, power=1)])
    for _ in range(6):
        hot.copy().fire(0)
    assert hot.fire(0) == 0


def test_nothing_printed_is_no_limit() -> None:
    plain = Buckets([Light(role="key", flash=ROOMY, power=1 / 2)])
    assert plain.idle
    assert [plain.fire(0) for _ in range(50)] == [0] * 50


@given(
    st.lists(st.floats(0, 60), min_size=1, max_size=25),
    st.sampled_from([1, 1 / 2, 1 / 4, 1 / 16]),
    st.sampled_from([1, 1 / 2]),
)
def test_all_lights_of_a_station_wait_for_the_hottest(gaps, key, edge) -> None:
    lights = Light(role="key", flash=FLASH, power=key), Light(role="edge", flash=ROOMY, power=edge)
    hot, fired, now_s = Buckets(lights), [], 0.0
    for gap_s in gaps:
        now_s += gap_s
        each = [[Fired(at_s, light.power) for at_s in fired] for light in lights]
        due_s = now_s + max(wait_s(light.flash, f, light.power, now_s) for light, f in zip(lights, each, strict=True))
        assert hot.fire(now_s) == pytest.approx(due_s, abs=1e-6)
        now_s = due_s
        fired.append(due_s)
