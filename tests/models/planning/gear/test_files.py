"""Kit in and out of files: what was understood row by row, kept only as it was shown."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.gear.fields import BY_NAME, KINDS
from models.planning.gear.files import KitMoved, csv_of, import_csv, preview_csv, toml_of
from models.planning.gear.keeping import bring_back, get_piece, retire
from models.planning.kit import kit_of
from models.problems import InputProblem

MODIFIERS = BY_NAME["modifiers"]
FILE = b"""name,kind,loss_stops,face_m,colour
"strip box, 30 x 90 cm",box,2 1/3,12 x 36 in,black
small umbrella,umbrella,1 1/2,60 cm,
<b>odd</b>,thing,-3,big,
plastic dome,diffuser,1.5,8 x 6 cm,
Plastic  DOME,diffuser,9,,
"""


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_what_goes_out_comes_back_the_same(kit, kind):
    found = preview_csv(kit, kind, csv_of(kit, kind).encode())
    assert {row.state for row in found.rows} == {"same"}
    assert len(found.rows) == len(getattr(kit_of(kit), kind.name))
    assert found.to_keep == 0


def test_all_of_it_as_one_file(kit, tmp_path):
    path = tmp_path / "kit.toml"
    path.write_text(toml_of(kit), "utf-8")
    assert read_kit(path) == kit_of(kit)


def test_row_by_row(kit):
    before = kit_of(kit)
    found = preview_csv(kit, MODIFIERS, FILE)
    assert [row.state for row in found.rows] == ["changed", "new", "refused", "same", "refused"]
    changed, new, refused, _, twice = found.rows
    assert dict(changed.what) == {
        "Light it takes": "2.3 stops, now 2 1/3 stops",
        "Lit face": "30 x 90 cm, now 30.5 x 91.4 cm",
    }
    assert dict(new.what)["Lit face"] == "60 cm across"
    assert list(dict(refused.what)) == ["Kind", "Light it takes", "Lit face"]
    assert twice.what == (("Name", "stands in line 5 too."),)
    assert (found.ignored, found.to_keep) == (("colour",), 2)
    assert found.answer == "5 rows of modifiers: 1 new, 1 changed, 1 same, 2 refused. Nothing is kept yet."
    assert kit_of(kit) == before


def test_keeping_it_leaves_out_what_was_refused_and_columns_not_given(kit):
    found = preview_csv(kit, MODIFIERS, FILE)
    assert import_csv(kit, MODIFIERS, FILE, found.mark) == "1 modifier added, 1 changed."
    by_id = {modifier.id: modifier for modifier in kit_of(kit).modifiers}
    assert by_id["strip-box"].loss_stops == pytest.approx(7 / 3)
    assert (by_id["strip-box"].weight_kg, by_id["strip-box"].measured_zoom_mm) == (0.8, 24)
    assert by_id["small-umbrella"].face_m == (0.6, 0.6)
    assert len(by_id) == 10
    assert preview_csv(kit, MODIFIERS, FILE).to_keep == 0


def test_lines_may_have_been_broken_otherwise_on_the_way(kit):
    found = preview_csv(kit, MODIFIERS, FILE)
    import_csv(kit, MODIFIERS, b"\xef\xbb\xbf" + FILE.replace(b"\n", b"\r\n"), found.mark)
    assert len(kit_of(kit).modifiers) == 10


def test_nothing_is_kept_where_the_kit_moved_since(kit):
    found = preview_csv(kit, MODIFIERS, FILE)
    retire(kit, MODIFIERS, "strip-box", get_piece(kit, MODIFIERS, "strip-box").version)
    before = kit_of(kit)
    with pytest.raises(KitMoved):
        import_csv(kit, MODIFIERS, FILE, found.mark)
    with pytest.raises(KitMoved):
        import_csv(kit, MODIFIERS, FILE.replace(b"60 cm", b"61 cm"), preview_csv(kit, MODIFIERS, FILE).mark)
    assert kit_of(kit) == before


def test_a_retired_piece_comes_back_with_its_row(kit):
    dome = get_piece(kit, MODIFIERS, "dome")
    retire(kit, MODIFIERS, "dome", dome.version)
    data = b"id,name\ndome,plastic dome\n"
    found = preview_csv(kit, MODIFIERS, data)
    assert [(row.state, row.retired) for row in found.rows] == [("changed", True)]
    import_csv(kit, MODIFIERS, data, found.mark)
    assert not get_piece(kit, MODIFIERS, "dome").retired
    assert bring_back(kit, MODIFIERS, "dome").item == dome.item


def test_an_id_fit_for_no_address_gets_one_of_ours(kit):
    data = b"id,name,kind,loss_stops\n../etc,a dish,other,1\nown-dish,another,other,1\n"
    import_csv(kit, MODIFIERS, data, preview_csv(kit, MODIFIERS, data).mark)
    assert [modifier.id for modifier in kit_of(kit).modifiers[-2:]] == ["a-dish", "own-dish"]


def test_a_bad_file_is_said_as_a_whole(kit):
    found = preview_csv(kit, MODIFIERS, b"id,kind\n")
    assert found.answer.startswith("Nothing can come in: the file lacks the column name.")
    assert (found.rows, found.to_keep) == ((), 0)
    with pytest.raises(InputProblem, match="lacks the column name"):
        import_csv(kit, MODIFIERS, b"id,kind\n", "")
