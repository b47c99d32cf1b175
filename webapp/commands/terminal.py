"""Printing what people typed, and problems, on a terminal."""

from __future__ import annotations

import functools
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from typing import ParamSpec, TypeVar

import click
from flask import current_app

from models.planning.demo import open_demo
from models.problems import InputProblem, InputProblems
from models.store.engine import Store
from models.store.spots import Missing
from webapp.config import demo_path

Params = ParamSpec("Params")
Result = TypeVar("Result")
HIDDEN = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
"""Unicode categories that steer a terminal or hide text: controls, formats, surrogates, private use, separators."""


def plain(text: str) -> str:
    """The text on one line, with whatever could steer a terminal shown as a replacement mark."""
    return "".join("\ufffd" if unicodedata.category(letter) in HIDDEN else letter for letter in text)


def demo_town() -> Store:
    """The demo town's own database, where it was ever started."""
    if not demo_path().exists():
        raise click.ClickException("There is no demo town on this machine yet. Start it with kerbstand demo.")
    return open_demo(demo_path())


def say(text: str = "") -> None:
    for line in text.split("\n"):
        click.echo(plain(line))


def say_json(value: object) -> None:
    """The answer as its page's .json gives it."""
    click.echo(current_app.json.dumps(value, indent=2))


def table(head: Sequence[str], rows: Iterable[Sequence[str]], left: int = 1) -> None:
    """Columns in line; the first `left` of them to the left, the others to the right."""
    lines = [list(head), *([plain(cell) for cell in row] for row in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(head))]
    for line in lines:
        cells = [
            cell.ljust(width) if column < left else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(line, widths, strict=True))
        ]
        click.echo("  ".join(cells).rstrip())


def with_problems_said(command: Callable[Params, Result]) -> Callable[Params, Result]:
    """Bad input ends the command with what is wrong, where and what to do, and code 2."""

    @functools.wraps(command)
    def run(*args: Params.args, **kwargs: Params.kwargs) -> Result:
        try:
            return command(*args, **kwargs)
        except InputProblem as problem:
            raise click.UsageError(plain(f"{problem.field}: {problem.message}")) from problem
        except InputProblems as problems:
            said = [f"{field}: {message}" for field, message in problems.by_field.items()]
            raise click.UsageError("\n".join(map(plain, said))) from problems
        except Missing as problem:
            raise click.UsageError(plain(f"{problem}; see kerbstand spots")) from problem

    return run
