"""What people of a workshop are called on its pages, and what stands for their names elsewhere."""

from __future__ import annotations

from models.planning.workshops.running import Running
from models.words.people import Private
from models.workshop.lending import ORGANISER


def who(running: Running, number: int) -> Private:
    """The name on the page; 'attendee 4', 'helper 1', 'model 2' in JSON."""
    if number == ORGANISER:
        return Private("the organiser", "the organiser")
    told = _told(running, number)
    return Private(running.names.get(number, told), told)


def by_name(running: Running, numbers: tuple[int, ...]) -> list[int]:
    """In order of the names; places without one keep their order."""
    return sorted(numbers, key=lambda each: ("", -each) if each < 0 else (running.names.get(each, "").casefold(), each))


def _told(running: Running, number: int) -> str:
    if number in running.attendees:
        return f"attendee {running.attendees.index(number) + 1}"
    part = next((person.part for person in running.people if person.id == number), None)
    if part is None:
        return f"attendee {abs(number)}"
    return f"{part} {[person.id for person in running.people if person.part == part].index(number) + 1}"
