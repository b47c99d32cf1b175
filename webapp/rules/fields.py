"""The fields of an area's form and of a rule's, in their groups."""

from __future__ import annotations

from models.planning.rules.rule_rows import FOUND_WORDS
from models.rules.activities import ACTIVITIES
from models.rules.areas import KINDS
from webapp.spots.fields import Field, Group

AREA_GROUPS: tuple[Group, ...] = (
    Group("Who controls it", (
        Field("name", "Name", "wide"),
        Field("kind", "Kind of control", "choice", choices=tuple(KINDS.items())),
        Field("authority", "Authority", hint="Who decides there: council office, company, trustees, owner."),
        Field("contact", "Contact", hint="A counter, a telephone number, an e-mail address."),
        Field("web", "Web address", hint="Like https://council.example."),
        Field("holidays", "Holidays its office keeps", "short", "country code",
              "Like NL or DE-BE. Empty takes those of the settings."),
        Field("notes", "Anything else", "text"),
    )),
)  # fmt: skip
SHAPE = Field(
    "shape", "Corners", "text",
    hint="Latitude, longitude, one a line. An empty line begins another piece; the line “hole” what is left out of it.",
)  # fmt: skip
NO_PASSING = "It controls even walking through with kit, so it is asked about on the way to a spot too"
FAR = "It really lies there, far from every spot"

ACTIVITY_CHOICES = tuple((key, activity.words) for key, activity in ACTIVITIES.items() if not activity.more)
SELDOM_ACTIVITIES = tuple((key, activity.words) for key, activity in ACTIVITIES.items() if activity.more)
FOUND_CHOICES = tuple(FOUND_WORDS.items())

SOURCE = Group("Where it says so", (
    Field("source_title", "Source", "wide", hint="By-law, notice, web page, letter; or what the person was."),
    Field("source_section", "Section or page"),
    Field("source_link", "Link"),
    Field("read_by", "Read or heard by"),
    Field("checked_on", "Checked on", hint="Like today, 17.10. or 2026-10-17."),
    Field("check_again", "Too old after", hint="Like 1 year, 6 months or a date; empty for never."),
))  # fmt: skip
SAYS = Group("What it asks", (
    Field("conditions", "Conditions", "text"),
    Field("width_min", "Width to be left for walkers", "short", "metres or feet",
          "Like 1.5 m, where it names one. Empty for none."),
    Field("lead", "Ask so long before", hint="Like 10 working days or 2 weeks."),
    Field("over", "Only for more than", "short", hint="Of what is counted: people, stands. Empty from the first."),
))  # fmt: skip
SELDOM = Group("More: hours, days, fee, insurance", (
    Field("hours", "Only in these hours", hint="Local time, like 8-18 or 22-6. Empty for all day."),
    Field("days", "Only on these weekdays", hint="Like Mon-Fri or Sat, Sun. Empty for every day."),
    Field("first_day", "Only from this day", hint="Like 1.5.2027. Empty for always."),
    Field("last_day", "Until this day"),
    Field("fee", "Fee"),
    Field("insurance", "Insurance asked for"),
))  # fmt: skip
RULE_FIELDS = ("activity", "found", "spoken", *(f.name for group in (SAYS, SELDOM, SOURCE) for f in group.fields))
AREA_FIELDS = (*(f.name for group in AREA_GROUPS for f in group.fields), "shape", "no_passing")
