"""The fields of a person's form and of a release's."""

from __future__ import annotations

from models.words.people import YES_NO_WORDS
from models.workshop.person import PARTS, USES
from webapp.spots.fields import Choices, Field, Group

ASKED: Choices = tuple(YES_NO_WORDS.items())
NO_YES: Choices = (("no", "no"), ("yes", "yes"))
PARTS_TO_CHOOSE: Choices = tuple((part, part) for part in PARTS)
DAY = "Like 2026-10-17, 17.10. or 17 Oct."

PERSON_GROUPS: tuple[Group, ...] = (
    Group("Who", (
        Field("name", "Name or initials", "wide", hint="Initials do, where you know who is meant."),
        Field("part", "Comes as", "choice", choices=PARTS_TO_CHOOSE),
        Field("contact", "Contact", hint="A telephone number or an address: whatever you would use on the day."),
    )),
    Group("For the day, if they tell you", (
        Field("emergency_contact", "Whom to call in an emergency"),
        Field("camera_system", "Own camera system", hint="For the trigger."),
        Field("picture_consent", "Agrees to be photographed", "choice", choices=ASKED),
        Field("access_needs", "Access needs", "text", hint="Only what helps to plan the way and the place."),
        Field("experience", "Experience", "text"),
    )),
    Group("Before the camera", (
        Field("stands_in", "Stands in as a model too", "choice", hint="An attendee or a helper.", choices=NO_YES),
        Field("adult", "18 or over", "choice", choices=ASKED),
        Field("guardian", "Guardian", hint="The name, where the model is under 18."),
        Field("guardian_consent", "Guardian consents in writing", "choice", choices=ASKED),
        Field("guardian_present", "Guardian comes along", "choice", choices=ASKED),
    )),
    Group("Owed to them", (
        Field("owed_fee", "Fee", hint="As agreed, with its currency."),
        Field("owed_travel", "Travel"),
        Field("paid_on", "Paid on", hint=DAY),
        Field("owed_pictures", "Pictures", "short", "pictures"),
        Field("owed_from", "Pictures from whom"),
        Field("owed_by", "Pictures by", hint=DAY),
        Field("owed_route", "Route they chose", hint="Like by e-mail, or a link that ends."),
        Field("delivered_on", "Delivered on", hint=DAY),
    )),
    Group("Anything else, and until when", (
        Field("notes", "Notes", "text"),
        Field("erase_after", "Erase after", hint="Empty takes so many days after the workshop as the settings say."),
    )),
)  # fmt: skip
PERSON_NAMES = tuple(field.name for group in PERSON_GROUPS for field in group.fields)

RELEASE_FIELDS: tuple[Field, ...] = (
    Field("for_whom", "For whom", "wide", hint="The model's name as on the paper."),
    Field("by_whom", "Signed by", "wide", hint="The guardian, where the model is under 18."),
    Field("signed_on", "Signed on", hint=DAY),
    *(Field(f"use_{use}", f"Use: {use}", "choice", choices=NO_YES) for use in USES),
    Field("lies_at", "Where the paper lies", "wide", hint="Like the blue folder."),
    Field("keep_until", "Keep until", hint="The record is erased after that day. Empty keeps it until you delete it."),
)
RELEASE_NAMES = tuple(field.name for field in RELEASE_FIELDS)
