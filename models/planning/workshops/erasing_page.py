"""The page before people are erased: who goes, what stays."""

from __future__ import annotations

from dataclasses import dataclass

from models.planning.workshops.erasing import GOES_WITH_THE_LAST, STAY
from models.store import people as kept
from models.store.engine import Store
from models.store.rules.workshops import shelf as workshops
from models.store.versions import Missing
from models.words.people import erased_words
from models.words.said import counted


@dataclass(frozen=True, slots=True)
class ErasingPage:
    """names: of those who go. person_id: of the one, None for several. listed: the workshop is not put aside."""

    workshop_id: int
    title: str
    listed: bool
    person_id: int | None
    aside: bool
    answer: str
    names: tuple[str, ...]
    goes_too: str
    stays: tuple[str, ...]


def erasing_page(store: Store, workshop_id: int, person_id: int | None, *, aside: bool) -> ErasingPage:
    """Raises Missing, also for a person of another workshop."""
    with store.reading() as s:
        workshop, listed = workshops.find(s, workshop_id)
        people = kept.personal_rows(s, workshop_id=workshop_id)
        seen = {each.id for each in kept.people_of(s, workshop_id)}
        if person_id is not None:
            people = tuple(each for each in people if each.id == person_id)
            if not people:
                raise Missing(person_id, "person")
        elif aside:
            people = tuple(each for each in people if each.id not in seen)
        releases = kept.releases_by_person(s, [each.id for each in people])
    papers = sum(map(len, releases.values()))
    return ErasingPage(
        workshop_id=workshop_id,
        title=workshop.title,
        listed=listed,
        person_id=person_id,
        aside=aside,
        answer=_answer(len(people)),
        names=tuple(each.name for each in people),
        goes_too=GOES_WITH_THE_LAST,
        stays=_stays(papers),
    )


def _answer(many: int) -> str:
    if not many:
        return "Nobody has anything personal on record here."
    return f"All that is noted of {erased_words(many)} goes for good, at once. There is no way back."


def _stays(releases: int) -> tuple[str, ...]:
    papers = (
        f"{counted(releases, 'release')} with the names on the paper, kept apart until the day noted: see Releases."
        if releases
        else ""
    )
    line = "A line called “erased” in the list and in the rotas, so that their numbers still fit."
    return tuple(filter(None, (line, papers, STAY)))
