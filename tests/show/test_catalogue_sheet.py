"""The printed catalogue: sections at 1:1 on the raster, nothing clipped, the same bytes twice."""

from __future__ import annotations

import dataclasses

import pikepdf
import pytest
from hostile import OBEYED
from printed import LINE, Sheet, level_lines

from sweep.shop.row import Answer, Row
from sweep.show.sheet import catalogue
from sweep.show.sheet.catalogue import write_catalogue
from sweep.units import Units

ARC = ((-3000, 0), (-2000, 900), (0, 1500), (2000, 900), (3000, 0))
ROW = Row("arc.csv", "10 in", 1, 28.0, 15.0, 0.0, 0.5, 0.3, False, 6, 14.5, "rise-large", "no setting gives it")
COVE = Answer("arc.csv", (ROW,), wanted=ARC, cut=ARC, stock_mm=(83.0, 21.0))
WHOLE = dataclasses.replace(
    COVE,
    profile="whole.csv",
    whole=True,
    wanted=((-4000, 0), (-1000, 0), (-1000, 600), (4000, 600)),
    rows=(Row("whole.csv", "a + b", 1, deviation_mm=0.0, within_tolerance=True, passes=9, minutes=70.0, flags=""),),
    stock_mm=(80.0, 12.0),
)
WIDE = dataclasses.replace(COVE, profile=f"{OBEYED[0]}#panic(1).csv", stock_mm=(300.0, 30.0))


@pytest.mark.parametrize(("units", "paper"), [(Units(), "a4"), (Units("in"), "letter")])
def test_sections_are_printed_at_their_size(tmp_path, units, paper):
    """Backs of the stock on the raster, within a tenth of a mm; what is too wide says that it is not."""
    paths = [tmp_path / "one.pdf", tmp_path / "two.pdf"]
    for path in paths:
        write_catalogue(path, "Profiles", [COVE, WHOLE, WIDE], units, paper)
    sheet = Sheet(paths[0])
    lines = [end - start for _, start, end in level_lines(sheet.pixels(0), 20.0)]

    for back in (83.0, 80.0):
        assert min(abs(one - back - LINE) for one in lines) < 0.1, (back, sorted(lines))
    text = sheet.text()
    assert "out of tolerance; rise large; no setting gives it" in text
    assert "9 passes, 1 h 10 min a piece" in text
    assert "not at 1:1" in text and "#panic(1)" in text.replace(" ", "")
    assert ("150 mm" in text) and (("6 in" in text) == (paper == "letter"))
    assert sheet.beyond(0, 5.0) == ""
    assert paths[0].read_bytes() == paths[1].read_bytes()
    with pikepdf.open(paths[0]) as pages:
        assert pages.check_pdf_syntax() == []
        assert str(pages.Root.ViewerPreferences.PrintScaling) == "/None"


def test_many_profiles_are_set_in_parts_that_follow_each_other(tmp_path, monkeypatch):
    """Each begins a page and says which profiles it has; one part, or none at all, says how many."""
    monkeypatch.setattr(catalogue, "PART", 2)
    texts = []
    for number, answers in enumerate(([], [COVE], [COVE, WIDE, WHOLE])):
        path = tmp_path / f"{number}.pdf"
        write_catalogue(path, "Profiles", answers, Units(), "a4")
        with pikepdf.open(path) as pages:
            assert pages.check_pdf_syntax() == [] and len(pages.pages) == max(number, 1)
        texts.append(Sheet(path).text())

    assert "0 profiles" in texts[0] and "profiles 1 to 2" in texts[2]
    assert "1 profile" in texts[1] and "1 profiles" not in texts[1]
    assert texts[2].index("profiles 3 to 3") > texts[2].index("not at 1:1")
    assert texts[2].index("a + b") > texts[2].index("profiles 3 to 3")
