"""What is said of the width beside a station: cautions, hours that get tight, what it becomes, no width known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from models.street.clearance import Minimum
from models.street.crowding import Crowding
from models.street.footfall import DayKind
from models.words.said import Said, listed, said
from models.words.street import DAY_KIND_WORDS, as_told, metres

NOT_MEASURED = said(
    "Pavement ", "not measured", ": nothing can be said about the width left. Measure from the wall to the kerb, past "
    "every post, bin and table, and type it into the sentence below.",
)  # fmt: skip
WIDTH_CAUTIONS = (
    "Walkers first: the watcher stops the shooting before anybody has to step off the kerb; nobody waits for a frame.",
    "Wheelchairs, prams, sticks and guide dogs need the whole width on one side, straight on, without a cable across.",
    "Posts, bins, parked cycles, cafe tables and scaffolding count as width that is gone. Measure on the day.",
    "Nobody frames walking backwards towards the kerb.",
)
NOT_COUNTED_HOUR = said("How tight it gets is ", "not known", ": nobody has counted here in such an hour.")


def upper_end_words(middle: Crowding, upper: Crowding) -> str:
    """What the upper end of the count says, where it says worse."""
    if upper.crowd == middle.crowd:
        return ""
    return f" At the upper end of the count it is {upper.crowd}; an hour's mean hides its busiest minutes."


def tight_hours_words(tight: Mapping[DayKind, Sequence[int]], counted: int) -> str:
    """Of the hours counted, those in which it is tight or blocked beside the station."""
    if not counted:
        return ""
    found = [
        f"{DAY_KIND_WORDS[kind]} {listed([f'{hour} to {hour + 1} h' for hour in hours])}"
        for kind, hours in tight.items()
        if hours
    ]
    rest = counted - sum(map(len, tight.values()))
    others = f"in the other {'hour' if rest == 1 else f'{rest} hours'} counted there is room to pass"
    if not found:
        hours = "the one hour counted" if counted == 1 else f"all {counted} hours counted"
        return f"In {hours} there is room to pass beside the station."
    return f"Tight or blocked beside the station on {'; '.join(found)}{f'; {others}' if rest else ''}."


def unmeasured_words(minimum: Minimum) -> str:
    """What is asked for where the pavement is not measured."""
    return f"{minimum.name}, {as_told(minimum.width_m)}: the pavement is not measured. {minimum.source}."


def obstructs_words(short: bool) -> Said:
    """The finding that a width under a minimum, or a blocked way, becomes."""
    why = "short of what is asked for" if short else "blocked by those who come by"
    return said("", "An obstruction of the footway", f": the width left is {why}. In the rules it counts as that: ")


def pavement_words(pavement_m: float | None) -> str:
    """What is known of a spot's pavement where nobody measured what a station leaves of it; '' where neither was."""
    if pavement_m is None:
        return ""
    return f"The pavement there is {metres(pavement_m)} wide; what the station takes of it is not taken off yet."
