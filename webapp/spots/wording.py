"""The words of the sentence and of the times form in the address: settled when they are understood, kept when not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from flask import Response, redirect, request

from models.planning.sentence import PARAMETERS
from models.planning.usual import unusual_words
from models.problems import InputProblem
from webapp.address import here
from webapp.answering import store, wants_json

Page = TypeVar("Page")


def settled_words(usual_looking_deg: float | None, **others: str) -> Response | None:
    """Where to go instead: the sentence as an address that always means the same, usual words left out."""
    typed = {name: request.args[name] for name in PARAMETERS if name in request.args}
    try:
        exact = unusual_words(store(), usual_looking_deg, typed) if typed else {}
    except InputProblem:
        return None
    if typed == exact and all(request.args.get(name, "") == value for name, value in others.items()):
        return None
    return redirect(here(**{name: exact.get(name) for name in PARAMETERS}, **others), 303)


def forgiving(work: Callable[[Mapping[str, str]], Page], asked: Mapping[str, str]) -> tuple[Page, dict[str, str]]:
    """The answer without what cannot be read, and by parameter what is wrong with it; under .json it is raised."""
    left, problems = dict(asked), dict[str, str]()
    while True:
        try:
            return work(left), problems
        except InputProblem as problem:
            if wants_json() or problem.field not in left:
                raise
            problems[problem.field] = problem.message
            del left[problem.field]
