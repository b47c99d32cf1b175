"""What is said when something typed or loaded cannot be used."""

from __future__ import annotations


class InputProblem(ValueError):
    """Bad input, with the field or feature it stands in and what to do about it."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message
