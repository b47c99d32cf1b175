"""The fields of a paper's form in their groups."""

from __future__ import annotations

from models.planning.rules.paper_form import COVERS_WORDS
from models.rules.papers import KINDS
from webapp.spots.fields import Field, Group

COVERS = tuple(COVERS_WORDS.items())
GROUPS: tuple[Group, ...] = (
    Group("The paper", (
        Field("kind", "Kind", "choice", choices=tuple(KINDS.items())),
        Field("title", "Title", hint="Like Public liability, or Grant of the harbour office."),
        Field("reference", "Number or reference"),
        Field("where", "Where it lies", hint="Like the blue folder, or a link."),
        Field("valid_from", "Valid from", hint="Like 2026-10-17 or 17.10."),
        Field("valid_to", "Valid to"),
    )),
    Group("If it is insurance", (
        Field("insured_sum", "Sum insured", hint="As the paper has it, with its currency."),
        Field("covers_teaching", "Covers paid teaching", "choice", choices=COVERS),
        Field("covers_models", "Covers hired models", "choice", choices=COVERS),
    )),
    Group("If it is a stack of releases", (
        Field("count", "How many", "short", hint="Count them. No name and no release is kept here."),
    )),
    Group("Anything else", (Field("notes", "Notes", "text"),)),
)  # fmt: skip
NAMES = tuple(field.name for group in GROUPS for field in group.fields)
