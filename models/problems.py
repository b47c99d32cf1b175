"""What is said when something typed or loaded cannot be used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager


class InputProblem(ValueError):
    """Bad input, with the field or feature it stands in and what to do about it."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


class FileProblems(InputProblem):
    """What is wrong with a file, feature by feature; the message holds all of `problems`, `field` is the first's."""

    def __init__(self, problems: Sequence[InputProblem]) -> None:
        first, *rest = problems
        super().__init__(first.field, "; ".join([first.message, *(str(problem) for problem in rest)]))
        self.problems = tuple(problems)


class InputProblems(ValueError):
    """Several problems of one form at once, each under the name of its field."""

    def __init__(self, by_field: dict[str, str]) -> None:
        super().__init__("; ".join(f"{field}: {message}" for field, message in by_field.items()))
        self.by_field = by_field


@contextmanager
def noted(problems: dict[str, str], field: str) -> Iterator[None]:
    """Where the block meets an InputProblem, its message is put under this field and what follows goes on."""
    try:
        yield
    except InputProblem as problem:
        problems[field] = problem.message
