"""A briefing's facts to be put in words: an evening with everything filled in, and one with next to nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from models.words.briefing import BRING, BRING_MODELS, LISTS, PARAGRAPHS, WEAR
from models.workshop.briefing import Facts, Place, StationTold, TimedBlock

ZONE = "Europe/Amsterdam"
STARTS = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)
ENDS = STARTS + timedelta(minutes=90)


def block(key: str, title: str, starts_min: float, lasts_min: float, note: str = "") -> TimedBlock:
    """Minutes are counted from the set-up."""
    starts = STARTS + timedelta(minutes=starts_min)
    return TimedBlock(key=key, title=title, starts=starts, ends=starts + timedelta(minutes=lasts_min), note=note)


BLOCKS = (
    block("meet", "Meet", -32, 10),
    block("drink", "Warm drink and toilets", -22, 10),
    block("walk", "Walk to the spot", -12, 12, "Keep together."),
    block("set up", "Set up", 0, 15),
    block("safety", "Safety word", 15, 5),
    block("round 1", "Round 1", 20, 25),
    block("round 2", "Round 2", 45, 25),
    block("group picture", "Group picture with all lights", 70, 5),
    block("pack", "Pack", 75, 10),
    block("release", "Release people", 85, 5),
)
STATION_A = StationTold(
    name="A", setup="Key and fill", setup_id=7, settings="1/125 s, f/5.6, ISO 200", powers=("key 1/4", "fill 1/16"),
    lesson="Short light", place=None, reason="The surroundings are kept darker.",
)  # fmt: skip
STATION_B = StationTold(name="B", setup="", setup_id=None, settings="", powers=(), lesson="", place=None)
FACTS = Facts(
    workshop_id=1,
    title="Evening light",
    spot=Place(name="Foundry Lane", latitude_deg=52.5301, longitude_deg=5.2312),
    zone=ZONE,
    starts=STARTS,
    ends=ENDS,
    called_off=False,
    meeting=Place(name="Ferry quay", latitude_deg=52.5288, longitude_deg=5.2275, words="By the pump"),
    indoors="The ticket hall",
    fallback=Place(name="Old arcade", latitude_deg=52.5312, longitude_deg=5.2299),
    decide_by=STARTS - timedelta(minutes=30),
    blocks=BLOCKS,
    stations=(STATION_A, STATION_B),
    frames=8,
    group_size=3,
    organiser="R. Vale",
    contact="R. Vale, 0555 0100",
    talks="J. Moss",
    ambulance="1 Foundry Lane, at the arch",
    weather="3 of 8 covered, 12 °C",
    light="On the face at 17:20 CEST, when round 1 begins: EV 10.4 at A (ISO 100)",
    bring=tuple(LISTS[BRING][1].splitlines()),
    carry=("Liability: insurance, reference P 4",),
    charge=("4 sets of AA cells",),
    enquiries=(("Harbour office", "R 12", "granted for stands", "No cables"), ("Quay guard", "", "asked", "")),
    hazards=("Water's edge: nobody walks backwards near it (pavement watcher)", "Lightning: inside (organiser)"),
    leaf=("1 person fewer: 5 there: 8 frames a turn",),
    paragraphs={key: f"{each.title} as told." for key, each in PARAGRAPHS.items()},
    walk="12 minutes along footways, 820 m.",
    group=9,
    facilities="Toilets in the ticket hall",
    wear=tuple(LISTS[WEAR][1].splitlines()),
    bring_models=tuple(LISTS[BRING_MODELS][1].splitlines()),
    kit=("A, key: large flash, held in the hand",),
    cells=("A, key: 77 flashes. New set at 17:45 CEST.",),
    rests=("17:44 CEST: The model at A rests 5 minutes before round 2, turn 1; nobody waits.",),
    cautions=("Water's edge: nobody walks backwards near it",),
    emergency="112",
    first_aider="K. Reed",
    spares="R. Vale",
    goes_to="Old arcade",
    redials=("A: 17:41 CEST, 2/3 stop darker: ISO 400. Powers stay.",),
)
BARE = replace(
    FACTS, meeting=None, indoors="", fallback=None, decide_by=None, blocks=BLOCKS[:5], stations=(), frames=None,
    organiser="", contact="", talks="", ambulance="", weather="", light="", bring=(), carry=(), charge=(), enquiries=(),
    hazards=(), leaf=(), paragraphs={}, walk="", group=0, facilities="", wear=(), bring_models=(), kit=(), cells=(),
    rests=(), redials=(), cautions=(), emergency="", first_aider="", spares="", goes_to="",
)  # fmt: skip
"""Nobody and no station down for it, nothing filled in."""
