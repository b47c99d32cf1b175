"""A helper's briefing on paper, the longest there is: the demo town's workshop of three stations and nine people.

From the database to the finished file, with sketch, plans, code and everything worked out anew. Seconds are of the
processor, the best of several.
"""

from __future__ import annotations

import pytest

from models.exchange.pdf import MOST_BYTES
from models.exchange.pdf_sheet import MOST_PAGES
from models.planning.briefing.paper import paper_of
from models.planning.demo import open_demo
from models.store.rules import list_workshops
from tests.bench.timing import best_of
from tests.models.exchange.printed import reader
from tests.models.planning.workshops.evening import NOW

pytestmark = pytest.mark.bench

MOST_S = 1.0
LINK = "https://kerbstand.example/b/1-abcdefghijklmnopqrstuvwxyz234567"


def test_under_a_second_four_pages_and_400_kb(tmp_path):
    store = open_demo(tmp_path / "demo.sqlite3")
    with store.reading() as s:
        number = next(each.id for each in list_workshops(s) if each.title == "Afternoon in the lane")
    for paper in ("a4", "us-letter"):
        took_s = best_of(lambda paper=paper: paper_of(store, number, "helper", NOW, paper, LINK), times=5)
        pdf = paper_of(store, number, "helper", NOW, paper, LINK)
        pages = len(reader(pdf).pages)
        print(f"\n{paper}: {took_s:.2f} s, {pages} pages, {len(pdf) / 1000:.0f} kB")
        assert took_s < MOST_S
        assert pages <= MOST_PAGES
        assert len(pdf) < MOST_BYTES
    store.close()
