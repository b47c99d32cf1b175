"""The printed briefing, read back with pypdf: what it says, how it is built, that it keeps to its pages."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
import typst
from pypdf.generic import DictionaryObject, IndirectObject

from models.exchange import pdf as pdf_module
from models.exchange.glyphs import MISSING, printable
from models.exchange.pdf import FITS, MOST_BYTES, PAPERS, _template, briefing_pdf
from models.exchange.pdf_sheet import KEPT, MOST_PAGES, Plan, Sheet
from models.exchange.qr import qr_svg
from models.words.paper import CUT, LEFT_OUT, SKETCH_WORDS, missing_words, undrawn_words
from models.workshop.briefing import READERS, Briefing, Section, Table
from tests.models.exchange.printed import HOSTILE, PLANS, drawing, named, plain, reader, text_of, told, words_of

ROOT = Path(__file__).parents[3]
LINK = "https://kerbstand.example/b/7-abcdefghijklmnopqrstuvwxyz234567"
SIZES = {"a4": (595.28, 841.89), "us-letter": (612.0, 792.0)}
"""Points: ISO 216, and 8.5 by 11 inches."""


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return whole()


def whole(briefing=None, **changes) -> bytes:
    given = {"sketch_svg": drawing("map"), "drawings": PLANS, "qr_svg": qr_svg(LINK), "link": LINK}
    return briefing_pdf(briefing or told(), **(given | changes))


def elements(pdf: bytes) -> list[DictionaryObject]:
    """The structure's elements, in order."""
    found: list[DictionaryObject] = []

    def walk(node: object) -> None:
        each = node.get_object() if isinstance(node, IndirectObject) else node
        if isinstance(each, list):
            for child in each:
                walk(child)
        elif isinstance(each, dict) and ("/S" in each or "/K" in each):
            found.append(each)
            walk(each.get("/K"))

    walk(reader(pdf).trailer["/Root"]["/StructTreeRoot"])
    return found


def test_says_everything_in_it(pdf):
    said = text_of(pdf)
    assert [words for words in words_of(told()) if plain(words) not in said] == []
    assert plain("For helpers. Version 2, issued on Saturday 10 October 2026.") in said
    for plan in PLANS.values():
        assert plain(plan.name) in said


def test_what_is_said_beside_every_plan_is_said_once(pdf):
    assert text_of(pdf).count(plain("Look first.")) == 1
    assert plain("key: 1 o'clock") in text_of(pdf)


def test_a_plan_that_is_not_there_is_said():
    assert plain(undrawn_words(1)) in text_of(whole(drawings={4: PLANS[4]}))
    assert plain(undrawn_words(2)) in text_of(whole(drawings={}))


@pytest.mark.parametrize("who", READERS)
def test_says_whose_it_is_and_a_draft_says_so(who):
    said = text_of(whole(told(reader=who, version=0, issued=None)))
    assert plain(f"For {who}s. A draft that was never issued") in said
    assert plain(f"For {who}s · Draft") in said


@pytest.mark.parametrize(("standing", "words"), [("called off", "Called off: do not come."), ("moved", "Moved: ")])
def test_says_first_that_it_is_called_off_or_moved(standing, words):
    said = text_of(whole(told(standing=standing)))
    assert said.index(plain(words)) < said.index(plain("16:22 CEST"))


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper_and_their_numbers(paper):
    pages = reader(whole(paper=paper)).pages
    for number, page in enumerate(pages, 1):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(SIZES[paper], abs=0.1)
        assert plain(f"page {number} of {len(pages)}") in plain(page.extract_text())


def test_is_tagged_with_language_and_title(pdf):
    root = reader(pdf).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"] == True  # noqa: E712 pypdf's own type
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader(pdf).metadata.title == "Afternoon in the lane"
    assert b"pdfuaid:part" in root["/Metadata"].get_data()


def test_headings_tables_lists_and_pictures_are_tagged(pdf):
    found = elements(pdf)
    kinds = [each.get("/S") for each in found]
    cells = [cell for table in (told().sections[0].table, told().sections[2].table) for cell in table.head]
    assert kinds.count("/TH") == len(cells)
    assert kinds.count("/H1") + kinds.count("/H2") >= len(told().sections)
    assert "/L" in kinds
    described = {str(each["/Alt"]) for each in found if "/Alt" in each}
    assert {SKETCH_WORDS, "Single gridded key", "Dish"} <= described


def test_every_typeface_is_in_it(pdf):
    for page in reader(pdf).pages:
        for font in page["/Resources"]["/Font"].values():
            inside = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert any(key.startswith("/FontFile") for key in inside)


def test_the_web_page_is_a_link_a_code_and_an_address():
    page = reader(whole()).pages[0]
    assert LINK in [each.get_object()["/A"]["/URI"] for each in page["/Annots"]]
    assert plain(LINK) in plain(page.extract_text())
    without = reader(whole(link="", qr_svg="")).pages[0]
    assert "/Annots" not in without
    assert "http" not in without.extract_text()


def test_the_head_of_a_table_stands_on_each_of_its_pages():
    rows = tuple((f"{hour:02}:00", f"{hour:02}:30", f"Round {hour}") for hour in range(70))
    pages = reader(whole(told(sections=(Section("when", "When", table=Table(("From", "To", "What"), rows)),)))).pages
    assert len(pages) > 1
    for page in pages:
        said = page.extract_text()
        assert ("From" in said) == ("Round" in said)


@pytest.mark.parametrize("name", HOSTILE)
def test_no_name_is_read_as_markup(name):
    pdf = whole(named(HOSTILE[name]), drawings={4: Plan(drawing(HOSTILE[name]), HOSTILE[name], (HOSTILE[name],))})
    said = text_of(pdf)
    printed = plain(printable(HOSTILE[name]))
    if name != "from the right":  # read back in the order in which it is seen
        assert said.count(printed) >= 6
    assert said.count("16:22") >= 3
    assert (plain(missing_words(MISSING)) in said) == (MISSING in printed)
    assert len(reader(pdf).pages) <= MOST_PAGES


def test_two_numbers_after_a_name_from_the_right_keep_their_order():
    place = "Spot: שלום, 52.53040, 5.23162"
    page = reader(whole(told(sections=(Section("where", "Where", items=(place,)),)))).pages[0]
    at: dict[str, float] = {}

    def seen(words: str, _cm: object, matrix: list[float], *_: object) -> None:
        for number in ("52.53040", "5.23162"):
            if number in words:
                at[number] = matrix[4] + words.index(number)

    page.extract_text(visitor_text=seen)
    assert at["52.53040"] < at["5.23162"]


@pytest.mark.parametrize("name", HOSTILE)
def test_typesetting_warns_of_nothing(name):
    sheet = Sheet(
        briefing=named(HOSTILE[name]), sketch_svg=drawing(), drawings=PLANS, qr_svg="", link="", paper="a4"
    )  # fmt: skip
    data = {"data": sheet.laid(FITS[0])[0]}
    made, warned = typst.compile_with_warnings(
        _template(), ignore_system_fonts=True, sys_inputs=data, pdf_standards=["ua-1"]
    )
    assert made
    assert [str(each) for each in warned] == []


def test_what_stands_round_a_slash_stays_in_one_line():
    paragraphs = tuple(f"{'x' * length} 1.07 m/s, f/10, 1/200 s" for length in range(60, 90))
    lines = (
        reader(briefing_pdf(told(sections=(Section("x", "Figures", paragraphs),)))).pages[0].extract_text().split("\n")
    )
    assert [line for line in lines if line.rstrip().endswith("/") or line.startswith("/")] == []


def test_the_same_briefing_is_the_same_file(pdf):
    assert whole() == pdf


def big(letters: int) -> Briefing:
    """Forty rounds, forty long hazards, and more."""
    text = " ".join(["walkers come first"] * (letters // 19 + 1))[:letters]
    rows = tuple((f"{16 + k // 6}:{k % 6}5", f"{16 + k // 6}:{k % 6}9", f"Round {k + 1}") for k in range(40))
    many = tuple(f"{k}. {text}" for k in range(40))
    sections = (
        Section("when", "When", table=Table(("From", "To", "What"), rows)),
        Section("where", "Where", (text,), ("Spot: Foundry Lane, 52.53040, 5.23162",), sketch=True),
        Section("gear", "Setups", many, drawings=tuple(range(12))),
        Section("pictures", "What pictures are for", many, many),
        Section("safety", "Safety", (), many),
        Section("call", "Who to call", items=("Emergency number: 112",)),
    )
    return told(sections=sections, changes=many)


@pytest.mark.parametrize("letters", [60, 250, 2000])
def test_a_big_one_keeps_to_its_pages_and_says_what_is_left_out(letters):
    briefing = big(letters)
    pdf = whole(briefing, drawings={k: Plan(drawing(f"setup {k}", 20), f"Setup {k}") for k in range(12)})
    said = text_of(pdf)
    assert len(reader(pdf).pages) <= MOST_PAGES
    assert len(pdf) <= MOST_BYTES
    for time in (cell for row in briefing.sections[0].table.rows for cell in row):
        assert plain(time) in said
    assert "Emergencynumber:112" in said
    assert plain("Left out, to keep this to 4 pages: ") in said
    assert plain(LEFT_OUT["drawings"]) in said or plain("the part “Setups”") in said
    assert (plain(LEFT_OUT["letters"]) in said) == (letters > 60)
    for section in briefing.sections:
        gone = plain(f"the part “{section.title}”") in said
        assert not (gone and section.key in KEPT)


def test_what_is_left_out_is_asked_of_the_organiser_where_there_is_no_page():
    said = text_of(whole(big(2000), link="", qr_svg=""))
    assert plain("Ask the organiser for all of it.") in said
    assert CUT in said


def test_a_drawing_too_large_for_the_file_is_left_out():
    noise = "".join(f"M{k} {(k * 7919) % 9973}l{k % 13} {(k * 31) % 17}" for k in range(60_000))
    heavy = drawing().replace("</svg>", f'<path d="{noise}" fill="none" stroke="#000"/></svg>')
    pdf = whole(drawings={4: Plan(heavy, "Heavy"), 9: PLANS[9]})
    assert len(pdf) <= MOST_BYTES
    assert plain(LEFT_OUT["drawings"]) in text_of(pdf)


def test_one_that_fits_leaves_nothing_out(pdf):
    assert "Leftout" not in text_of(pdf)
    assert len(pdf) < 100_000


def test_a_long_title_is_cut_in_the_foot_only_and_nothing_is_said_to_be_left_out():
    title = "Afternoon light under the arcades beside the old corn market, second time"
    said = text_of(whole(told(title=title)))
    assert plain(title) in said
    assert plain(f"{title[:59]}{CUT}") in said
    assert "Leftout" not in said


@pytest.mark.parametrize(("count", "first"), [(5, "changes"), (6, "answer")])
def test_the_answer_comes_before_many_changes(count, first):
    briefing = told(changes=tuple(f"Round {number} moves." for number in range(count)))
    said = text_of(whole(briefing))
    changes, answer = said.index(plain("Changed since")), said.index(plain(briefing.answer))
    assert (answer < changes) == (first == "answer")


def test_the_list_of_changes_is_cut_before_plans_are_left_out():
    changes = tuple(f"{number}. {'walkers come first ' * 12}" for number in range(90))
    drawings = {number: Plan(drawing(f"setup {number}", 6), f"Setup {number}") for number in range(8)}
    gear = Section("gear", "Setups", ("Light holds. " * 60,) * 4, drawings=tuple(drawings))
    pdf = whole(told(changes=changes, sections=(*told().sections[:2], gear)), drawings=drawings)
    said = text_of(pdf)
    assert all(plain(plan.name) in said for plan in drawings.values())
    assert plain(LEFT_OUT["changes"]) in said
    assert plain(LEFT_OUT["drawings"]) not in said
    assert plain(LEFT_OUT["letters"]) not in said
    assert plain(changes[2]) in said
    assert plain(changes[89]) not in said


def test_a_last_page_that_is_nearly_empty_is_saved(monkeypatch):
    long = tuple(f"{number}. {'walkers come first ' * 8}" for number in range(25))
    sections = (Section("x", "Long", long), Section("call", "Who to call", items=("Emergency number: 112",)))
    pages = reader(briefing_pdf(told(sections=sections))).pages
    assert len(pages) == 1
    assert "Emergency number: 112" in pages[0].extract_text()
    monkeypatch.setattr(pdf_module, "NEARLY_EMPTY", 0.0)
    assert len(reader(briefing_pdf(told(sections=sections))).pages) == 2


def test_letters_never_get_smaller_than_can_be_read():
    sizes = [fit.size_pt for fit in FITS]
    assert min(sizes) >= 8.5
    assert FITS[0].size_pt == 10.5


def test_typst_is_loaded_with_the_first_page_only():
    code = "import sys, models.exchange.pdf; print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)  # noqa: S603
    assert done.stdout.strip() == "False"


def test_no_other_module_names_typst():
    homes = [
        path.relative_to(ROOT).as_posix()
        for folder in ("models", "webapp")
        for path in (ROOT / folder).rglob("*.py")
        if re.search(r"^\s*(import|from) typst", path.read_text("utf-8"), re.MULTILINE)
    ]
    assert homes == ["models/exchange/pdf.py"]


def test_sections_with_nothing_but_a_heading_do_no_harm():
    empty = replace(told(), sections=(Section("x", "Empty"), Section("y", "", ("",), ("",), Table(("A",), ()))))
    assert "Empty" in text_of(briefing_pdf(empty))
