"""All releases that are kept, whatever became of the workshop and the person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from models.clock import day_words, to_local
from models.planning.spots import home_zone
from models.planning.workshops.people_page import NOTED
from models.store import people as kept
from models.store.engine import Store
from models.store.rules.workshops import shelf as workshops
from models.words.people import Private, release_kept_words, uses_words
from models.words.said import counted
from models.workshop.person import Release


@dataclass(frozen=True, slots=True)
class ReleaseRow:
    """workshop: its title; "a workshop that is gone" where it was thrown away. person_gone: erased, or deleted."""

    id: int
    for_whom: Private
    by_whom: Private
    signed_on: str
    uses: str
    lies_at: Private
    kept: str
    workshop: str
    workshop_id: int | None


@dataclass(frozen=True, slots=True)
class ReleasesPage:
    answer: str
    rows: tuple[ReleaseRow, ...]
    no_day: int


def releases_page(store: Store, now: datetime) -> ReleasesPage:
    """All releases, the latest signed first."""
    with store.reading() as s:
        releases = kept.list_releases(s)
        found = {number: workshops.find(s, number) for number in {each.workshop_id for each in releases} if number}
    titles = {number: (workshop.title, there) for number, (workshop, there) in found.items()}
    rows = tuple(_row(each, number, titles) for number, each in enumerate(releases, start=1))
    no_day = sum(each.keep_until is None for each in releases)
    today = to_local(now, home_zone(store)).date()
    ends = [each.keep_until for each in releases if each.keep_until and each.keep_until >= today]
    return ReleasesPage(_answer(len(rows), no_day, day_words(min(ends)) if ends else ""), rows, no_day)


def _row(release: Release, number: int, titles: dict[int, tuple[str, bool]]) -> ReleaseRow:
    title, there = titles.get(release.workshop_id or 0, ("a workshop that is gone", False))
    return ReleaseRow(
        id=release.id,
        for_whom=Private(release.for_whom, f"release {number}"),
        by_whom=Private(release.by_whom, NOTED),
        signed_on=day_words(release.signed_on),
        uses=uses_words(release),
        lies_at=Private(release.lies_at or "not noted", NOTED if release.lies_at else "not noted"),
        kept=release_kept_words(release),
        workshop=title,
        workshop_id=release.workshop_id if there else None,
    )


def _answer(many: int, no_day: int, first: str) -> str:
    if not many:
        return "No release is noted yet."
    said = f"{counted(many, 'release')} {'is' if many == 1 else 'are'} noted"
    if no_day:
        which = "for it" if many == 1 else f"for {no_day} of them"
        stays = "it stays until you delete it" if no_day == 1 else "they stay until you delete them"
        said += f"; {which} no last day is noted, so {stays}"
    return f"{said}. The first to be erased goes after {first}." if first else f"{said}."
