"""What is said when something typed or loaded cannot be used."""

from __future__ import annotations

from collections.abc import Sequence


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
