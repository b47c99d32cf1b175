"""What every table shares: names for constraints, instants in UTC, tuples kept as JSON, names put in order."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from typing import Any, TypeVar

from sqlalchemy import JSON, DateTime, Dialect, MetaData
from sqlalchemy.types import TypeDecorator

T = TypeVar("T")
metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    }
)


class UtcDateTime(TypeDecorator[datetime]):
    """An instant. Refuses naive values, gives back aware UTC even where the database drops zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None or value.utcoffset() is None:
            raise ValueError(f"an instant needs its time zone: {value!r}")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class TupleAsJson(TypeDecorator[tuple[Any, ...]]):
    """A tuple of frozen dataclasses, kept as a JSON list; lists inside them come back as tuples."""

    impl = JSON
    cache_ok = True

    def __init__(self, kind: Callable[..., Any]) -> None:
        super().__init__()
        self.kind = kind

    def process_bind_param(self, value: tuple[Any, ...] | None, dialect: Dialect) -> Any:
        return None if value is None else [asdict(item) for item in value]

    def process_result_value(self, value: Any, dialect: Dialect) -> tuple[Any, ...] | None:
        return None if value is None else read_tuple(self.kind, value)


class AsJson(TypeDecorator[Any]):
    """A frozen dataclass of plain values, kept as a JSON object."""

    impl = JSON
    cache_ok = True

    def __init__(self, kind: Callable[..., Any]) -> None:
        super().__init__()
        self.kind = kind

    def process_bind_param(self, value: Any, dialect: Dialect) -> Any:
        return None if value is None else asdict(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        return None if value is None else self.kind(**value)


class NestedTuple(TypeDecorator[tuple[Any, ...]]):
    """Tuples of plain values, or of such tuples, kept as JSON lists."""

    impl = JSON(none_as_null=True)
    cache_ok = True

    def process_result_value(self, value: Any, dialect: Dialect) -> tuple[Any, ...] | None:
        return None if value is None else nested_tuple(value)


def read_tuple(kind: Callable[..., T], items: Sequence[Mapping[str, Any]]) -> tuple[T, ...]:
    """Dataclasses from a JSON list; lists inside them become tuples."""
    return tuple(kind(**{name: nested_tuple(part) for name, part in item.items()}) for item in items)


def nested_tuple(value: Any) -> Any:
    """Lists as tuples, all the way down; a list holds lists or none."""
    if not isinstance(value, list):
        return value
    return tuple(map(nested_tuple, value)) if value and isinstance(value[0], list) else tuple(value)


def name_key(name: str) -> str:
    """What names are put in order and found by."""
    return " ".join(name.split()).casefold()
