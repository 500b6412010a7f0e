"""What is written over the picture is true of the saw and the wood: figures, and the places they are drawn at."""

from __future__ import annotations

import numpy as np
import pytest
from reports import report_of

from sweep.cut.fence import fence_on_table
from sweep.show.draw.forces import force_arrows
from sweep.show.draw.over_picture import over_section, over_table
from sweep.show.draw.section import frame_of
from sweep.show.page.legends import legends_of
from sweep.units import Units


def written(drawing):
    """Every line of words in a drawing."""
    return [part["text"] for part in drawing["parts"] if "text" in part]


def drawn_at(over, drawing):
    """Every corner that is drawn, brought back from paper to the thing, (n, 2) mm."""
    corners = [place for part in drawing["parts"] for ring in part.get("rings", ()) for place in ring]
    return (np.array(corners) - over.origin) / over.scale * (1, -1)


def has(places, place, within):
    """Whether something is drawn at a place."""
    return np.hypot(*(places - place).T).min() < within


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "too-greedy", "off-the-edge"])
def test_over_the_section_stand_the_target_and_each_pass_with_its_own_size(name):
    """Width at the table and depth of that pass, and the line of the target where it is in the stock."""
    report, units = report_of(name), Units("mm")
    over = over_section(report.outcome, units, frame_of(report.outcome, units, 140.0, 92.0))
    stock = report.scene.stock
    assert f"stock {stock.width:.2f} mm wide" in written(over.always)
    for one, drawing in zip(report.job.sections, over.passes, strict=True):
        assert f"{one.width:.2f} mm at the table" in written(drawing)
        assert {f"{one.top:.2f} mm deep", f"{stock.thickness - one.top:.2f} mm left above"} <= set(written(drawing))
        assert has(drawn_at(over, drawing)[:, :1] * (1, 0), (one.edges[0], 0), 0.01)
    assert ("target" in written(over.always)) == (report.profile is not None)
    if report.profile is not None:
        places = drawn_at(over, over.always)
        for place in np.array(report.profile.target)[::7]:
            assert has(places, place, 0.01)


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "picture-rail", "off-the-edge"])
def test_over_the_saw_stand_the_fences_marks_and_each_passs_forces(name):
    """By tape from the blade and from the slots; featherboards where no second fence can stand."""
    report = report_of(name)
    units, layout = report.units, report.layout
    over = over_table(report.scene, layout, report.job.loads, units, 140.0, 92.0)
    said, places = written(over.always), drawn_at(over, over.always)
    for mark in layout.face.marks:
        assert f"{units.tape(abs(mark.x))} {'left' if mark.x < 0 else 'right'}" in said
        assert has(places, (mark.x, mark.y), 1.2 / over.scale)
    assert sum("of the slot" in words for words in said) == sum(bool(mark.from_slots) for mark in layout.face.marks)
    assert ("featherboard" in said) == (not layout.has_second)
    assert {"enters", "leaves", "cage", "operator's side"} <= set(said)
    for load, drawing in zip(report.job.loads, over.passes, strict=True):
        arrows = force_arrows(report.scene, load, units)
        assert written(drawing) == list("ABC")[: len(arrows)]
        shafts = [part["rings"][0] for part in drawing["parts"] if part.get("stroke") in ("arrow", "alarm")]
        for arrow, (tail, tip) in zip(arrows, shafts, strict=True):
            along = np.subtract(tip, tail) * (1, -1)
            assert along / np.hypot(*along) == pytest.approx(arrow.direction, abs=0.01)


def test_the_legends_end_at_the_tolerance_and_at_the_limit():
    """Whatever the worst deviation and the thickest shaving are, so that two jobs' colours say the same."""
    for name in ("corner-cupboard-cornice", "too-greedy"):
        report = report_of(name)
        legends = legends_of(report)
        assert legends["deviation"]["most"] == -legends["deviation"]["least"] == report.profile.tolerance
        assert legends["chip"]["most"] == report.scene.limits.chip_thickness
    assert report.profile.max_deviation > report.profile.tolerance


def test_the_fence_is_measured_where_a_tape_is_hooked():
    """Without a table at lines across the saw, and the drawing says which."""
    report = report_of("off-the-edge")
    over = over_table(report.scene, fence_on_table(report.scene), report.job.loads, Units("mm"), 140.0, 92.0)
    assert {"250.0 mm before the blade's centre", "250.0 mm beyond the blade's centre"} <= set(written(over.always))
