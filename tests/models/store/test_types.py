from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
import sqlalchemy as sa
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy.exc import StatementError

from models.store.types import TupleAsJson, UtcDateTime
from models.street.scene import Canopy

AMSTERDAM = ZoneInfo("Europe/Amsterdam")


@pytest.fixture(scope="module")
def connection():
    engine = sa.create_engine("sqlite://")
    with engine.connect() as opened:
        yield opened
    engine.dispose()


def kept_and_read(connection: sa.Connection, kind: sa.types.TypeEngine, value: object) -> object:
    table = sa.Table("kept", sa.MetaData(), sa.Column("value", kind))
    table.create(connection)
    try:
        connection.execute(sa.insert(table).values(value=value))
        return connection.execute(sa.select(table.c.value)).scalar_one()
    finally:
        table.drop(connection)


def test_a_naive_instant_is_refused(connection: sa.Connection) -> None:
    with pytest.raises(StatementError, match="needs its time zone"):
        kept_and_read(connection, UtcDateTime(), datetime(2026, 7, 1, 12))  # noqa: DTZ001  (the naive one under test)


@given(
    st.datetimes(datetime(1950, 1, 1), datetime(2100, 1, 1)),  # noqa: DTZ001  (hypothesis wants naive bounds)
    st.integers(-14 * 60, 14 * 60),
)
def test_an_instant_of_any_zone_comes_back_as_the_same_instant_in_utc(
    connection: sa.Connection, local: datetime, offset_min: int
) -> None:
    instant = local.replace(tzinfo=timezone(timedelta(minutes=offset_min)))
    read = kept_and_read(connection, UtcDateTime(), instant)
    assert read == instant
    assert read.tzinfo is UTC


def test_the_two_half_past_twos_of_an_autumn_night_stay_apart(connection: sa.Connection) -> None:
    first, second = (datetime(2026, 10, 25, 2, 30, tzinfo=AMSTERDAM, fold=fold) for fold in (0, 1))
    apart = kept_and_read(connection, UtcDateTime(), second) - kept_and_read(connection, UtcDateTime(), first)
    assert apart == timedelta(hours=1)


def test_nothing_stays_nothing(connection: sa.Connection) -> None:
    assert kept_and_read(connection, UtcDateTime(), None) is None
    assert kept_and_read(connection, TupleAsJson(Canopy), None) is None


def test_dataclasses_come_back_equal_with_tuples_inside(connection: sa.Connection) -> None:
    planes = (Canopy(350, 20, 30, 80, 0.25, 0.57, (4, 5, 6), "plane trees"), Canopy(0, 360, 0, 90, 0.0, 0.0))
    assert kept_and_read(connection, TupleAsJson(Canopy), planes) == planes
