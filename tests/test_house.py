"""The house's own rules that no linter holds: sizes, who may read the clock, tests that test something."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LONGEST_FILE, LONGEST_FUNCTION = 320, 45
OWN = ("models", "webapp", "tests", "sample_locations")
PURE = ("sky", "street", "light", "workshop", "words", "drawing", "clock.py", "units.py", "problems.py")

LONG_FUNCTIONS = {
    ("models/store/migrations/versions/0002_town.py", "upgrade"): "a migration is a list of columns and is history",
    ("models/store/migrations/versions/0003_kit.py", "upgrade"): "a migration is a list of columns and is history",
    ("tests/browser/test_spot.py", "test_the_main_job_end_to_end"): "one story, told from the list to the times",
}
"""Longer than the house allows, each with its reason. To be made shorter, never longer."""

CLOCKS = {
    "datetime": {"now", "utcnow", "today"},
    "date": {"today"},
    "time": {"time", "time_ns", "monotonic", "perf_counter", "localtime", "gmtime"},
}
WALL_CLOCKS = {"datetime": CLOCKS["datetime"], "date": CLOCKS["date"], "time": {"time", "time_ns"}}
CHECKS = ("assert", "expect", "raises", "warns", "fail", "holds", "must")


@cache
def modules(folder: str) -> tuple[tuple[str, ast.Module], ...]:
    paths = sorted((ROOT / folder).rglob("*.py")) if (ROOT / folder).is_dir() else [ROOT / folder]
    return tuple((path.relative_to(ROOT).as_posix(), ast.parse(path.read_text("utf-8"))) for path in paths)


def everything() -> Iterator[tuple[str, ast.Module]]:
    for folder in OWN:
        yield from modules(folder)


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


def length(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    return (node.end_lineno or node.lineno) - node.lineno + 1


def called(node: ast.Call) -> str:
    """The last name of what is called: 'now' of datetime.now(UTC)."""
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def test_no_file_is_long():
    long = {}
    for suffix in ("*.py", "*.js", "*.css", "*.html"):
        for folder in OWN:
            for path in (ROOT / folder).rglob(suffix):
                lines = len(path.read_text("utf-8").splitlines())
                if lines > LONGEST_FILE:
                    long[path.relative_to(ROOT).as_posix()] = lines
    assert long == {}


def test_no_function_is_long_but_those_that_say_why():
    long = {
        (name, node.name): length(node)
        for name, tree in everything()
        for node in functions(tree)
        if length(node) > LONGEST_FUNCTION
    }
    assert set(long) <= set(LONG_FUNCTIONS), long
    assert set(LONG_FUNCTIONS) <= set(long), "an exception that is no longer needed"


def clocks_read(tree: ast.Module, clocks: dict[str, set[str]]) -> list[str]:
    """Calls that read a clock, by attribute (datetime.now) or imported by name (from time import perf_counter)."""
    by_name = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module == "time"
        for alias in node.names
        if alias.name in clocks["time"]
    }
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        owner = node.func.value if isinstance(node.func, ast.Attribute) else None
        last = getattr(owner, "attr", getattr(owner, "id", ""))
        if called(node) in clocks.get(last, ()) or (owner is None and called(node) in by_name):
            found.append(ast.unparse(node))
    return found


@pytest.mark.parametrize("part", PURE)
def test_the_pure_packages_never_read_the_clock(part):
    trees = modules(f"models/{part}")
    assert trees
    assert [(name, call) for name, tree in trees for call in clocks_read(tree, CLOCKS)] == []


def test_planning_is_told_the_time():
    """It may measure how long it has worked, never what day it is."""
    assert [(name, call) for name, tree in modules("models/planning") for call in clocks_read(tree, WALL_CLOCKS)] == []


def test_the_search_for_clocks_finds_them():
    source = "import time, datetime as d\nfrom time import perf_counter as tick\n"
    for call in ("d.datetime.now(UTC)", "datetime.now()", "date.today()", "time.time()", "tick()"):
        assert clocks_read(ast.parse(source + call), CLOCKS) == [call]
    assert clocks_read(ast.parse("now()\nclock.time()\nd.date()\nresolve(time(3))"), CLOCKS) == []


def test_every_module_says_what_it_is_for():
    program = (*modules("models"), *modules("webapp"))
    assert [name for name, tree in program if tree.body and not ast.get_docstring(tree)] == []


def checks(node: ast.AST) -> bool:
    """Whether an assert, or a call whose name says that it checks, stands anywhere in it."""
    return any(
        isinstance(part, ast.Assert) or (isinstance(part, ast.Call) and any(word in called(part) for word in CHECKS))
        for part in ast.walk(node)
    )


def test_every_test_can_fail():
    """By itself, or through a function of its own file that checks."""
    idle = []
    for name, tree in modules("tests"):
        helpers = {node.name for node in functions(tree) if checks(node)}
        for node in functions(tree):
            helped = any(isinstance(part, ast.Call) and called(part) in helpers for part in ast.walk(node))
            if node.name.startswith("test_") and not checks(node) and not helped:
                idle.append((name, node.name))
    assert idle == []
