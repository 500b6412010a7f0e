"""The plan of the saw table: to scale, whole, in the units asked, and every mark where the fence crosses."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from functools import cache

import numpy as np
import pytest
import shapely
from demos import SCENES
from drawn import crowded, inked, texts_of, words_of
from reports import COARSE, setups_report_of
from saws import changed

from sweep.check.judge import judge
from sweep.cut.fence import fence_on_table
from sweep.cut.job import simulate
from sweep.scene.read import read_scene
from sweep.show.draw.dimensioned_plan import plan_drawing, table_plan
from sweep.show.draw.fence_sketch import fence_sketch, table_in
from sweep.show.draw.looks import colour_of
from sweep.show.draw.paint_svg import svg_of
from sweep.show.draw.saw_from_above import angle_parts, saw_parts
from sweep.show.draw.sketch import drawing
from sweep.show.pictures.fence_plan import SCALES, fence_picture, fitting_scale
from sweep.show.say.report import Report
from sweep.units import Units

CORNICE = read_scene(SCENES / "corner-cupboard-cornice.toml")
NO_TABLE = dict.fromkeys(("table_depth", "table_width", "front_to_blade", "left_to_blade"))


def at(angle: float, **values):
    """The cornice at another angle in degrees."""
    return changed(CORNICE, "setup", fence_angle=math.radians(angle), **values)


ENDS = ["faint", "faint", "hair", "thin", "thin"]
"""How the lines of a dimension follow each other: what leads to it, itself, and the strokes that end it."""

CASES = {
    "cornice": CORNICE,
    "picture rail": read_scene(SCENES / "picture-rail.toml"),
    "far": at(28, fence_side="far"),
    "steep": at(62, fence_side="far"),
    "square": at(90),
    "along": at(0.1),
    "no table": changed(changed(CORNICE, "saw", **NO_TABLE), "saw", slots=(), throat_length=None, throat_width=None),
    "no table, steep": changed(at(70), "saw", **NO_TABLE),
    "misses": at(28, offset=1500.0),
    "short of all": changed(
        changed(at(62, fence_side="far"), "saw", throat_length=100.0, support_before=0.0), "fence", length=300.0
    ),
}


@pytest.fixture(scope="module")
def outcomes():
    """Every case, simulated and judged."""
    return {name: judge(simulate(scene, COARSE)) for name, scene in CASES.items()}


@pytest.fixture(scope="module")
def draw(outcomes):
    """A function that draws the `fence.png` of a case, once, as plain data."""

    @cache
    def drawn(name, style="mm"):
        return fence_picture(Report(outcomes[name], Units(style)))

    return drawn


def scale_of(drawing) -> int:
    """Return n of the scale that the picture says, 1 : n."""
    return next(int(text.split("1 : ")[1].split()[0]) for text in texts_of(drawing) if "1 : " in text)


@pytest.mark.parametrize("name", CASES)
def test_the_picture_has_a_free_border(draw, name):
    """No word or line touches the border, whatever the case."""
    drawing, laid = draw(name)
    share, free = inked(drawing, 2.3)
    assert not laid
    assert 0.04 < share < 0.6
    assert free


def test_a_small_angle_is_written_clear_of_the_fence():
    """In `fence.png` and in the sheet's sketch: beside the line along the blade, not on the fence."""
    for scene in (at(0.1), at(8), at(13, fence_side="far"), at(21)):
        view, _ = table_in(scene, fence_on_table(scene), Units("mm"), 90.0, 90.0)
        for radius in (17.0, 26.0):
            drawn = drawing(90.0, 90.0, [*saw_parts(view), *angle_parts(view, radius, 9.0)])
            (figure,) = words_of(drawn)
            (fence,) = (part["rings"][0] for part in drawn["parts"] if part.get("fill") == "fence")
            assert not shapely.Polygon(fence).intersects(figure.room), (scene.setup.fence_angle, radius)
        small = fence_sketch(scene, fence_on_table(scene), Units("mm"), 34.0, 45.0)
        assert all(-0.3 < word.room.bounds[0] and word.room.bounds[2] < 34.3 for word in words_of(small))


@pytest.mark.parametrize("style", ["mm", "in"])
@pytest.mark.parametrize("name", CASES)
def test_level_words_are_apart_and_figures_keep_clear_of_the_ends_of_their_dimensions(draw, name, style):
    """Words run into nothing, and a figure longer than its dimension stands beside its strokes and lines."""
    drawing = draw(name, style).drawing
    level = [word for word in words_of(drawing) if word.part["turn"] == 0]
    assert crowded(level, 0.2) == []

    parts, rooms = drawing["parts"], {id(word.part): word for word in words_of(drawing)}
    dimensions = [k for k, part in enumerate(parts) if [one.get("stroke") for one in parts[k - 5 : k]] == ENDS]
    assert len(dimensions) >= 4
    for k in dimensions:
        word = rooms[id(parts[k])]
        ends = [part["rings"][0] for part in parts[k - 5 : k] if part["stroke"] != "hair"]
        assert not word.room.buffer(-0.1).intersects(shapely.MultiLineString(ends)), word.text


@pytest.mark.parametrize("name", ["cornice", "picture rail", "far", "steep", "no table"])
def test_the_plan_is_to_scale_and_its_marks_stand_where_the_fence_crosses(draw, name):
    """On paper the way between the marks is their distance over the scale, both ways alike."""
    units = Units("in" if name == "picture rail" else "mm")
    drawing = draw(name, units.style).drawing
    plan = table_plan(CASES[name], fence_on_table(CASES[name]), units)
    scale = scale_of(drawing)
    rings = [np.mean(part["rings"][0], axis=0) for part in drawing["parts"] if part.get("fill") == "paper"]
    marks = [(mark.x, mark.y) for mark in plan.layout.face.marks]
    table = np.array(next(part["rings"][0] for part in drawing["parts"] if part.get("fill") == "table"))
    corner = np.array([plan.edges[0], plan.edges[3]])  # rear left, of which paper counts to the right and downwards

    assert np.allclose(corner + (rings - table[0]) * (scale, -scale), marks, atol=0.01 * scale)
    angle = math.atan2(*np.abs(np.subtract(*rings)))
    assert angle == pytest.approx(plan.layout.angle, abs=2e-3)


def test_every_size_of_the_table_is_written_in_the_units_asked(draw):
    """The figures of the scene and of the layout, and no other unit."""
    metric = " ".join(texts_of(draw("cornice").drawing))
    inches = " ".join(texts_of(draw("picture rail", "in").drawing))

    for size in ("690.0", "1020.0", "375.0", "410.0", "125.0", "140.0", "290.0 mm x 60.0", "92.0", "147.3", "219.6"):
        assert f"{size} mm" in metric
    for size in ("27", "40", "14 1/2", "16 1/4", "4 3/4", "5 1/2", "11 1/2 in x 2 1/2", "2 1/2", "4 21/64", "6 15/64"):
        assert f"{size} in" in inches
    assert "mm" not in inches
    assert "28.00°" in metric


@pytest.mark.parametrize(
    ("name", "codes"),
    [("cornice", set()), ("short of all", {"fence-short", "throat-tight", "stock-unsupported", "off-the-fence"})],
)
def test_what_does_not_fit_is_written_in_red(draw, outcomes, name, codes):
    """As the flags say it, and only then."""
    drawing = draw(name).drawing
    said = " ".join(texts_of(drawing))

    assert any(part.get("colour") == "alarm" for part in drawing["parts"]) == bool(codes)
    assert {flag.code for flag in outcomes[name].flags_of(None)} >= codes
    assert ("cannot be clamped at both edges" in said) == bool(codes)


def test_the_plan_alone_is_svg_to_its_scale():
    """A table of 1020 mm is 102 units wide at 1 : 10, each a mm of paper, and the plan is as large as it says."""
    plan = table_plan(CORNICE, fence_on_table(CORNICE), Units())
    scale = fitting_scale(plan, 180.0, 180.0)
    page = ET.fromstring(svg_of(plan_drawing(plan, scale), "the saw from above", "plan"))

    assert scale == 10
    assert [float(number) for number in page.get("viewBox").split()] == pytest.approx(
        [0, 0, *plan.size(scale)], abs=2e-3
    )
    table = next(
        path for path in page.iter("{http://www.w3.org/2000/svg}path") if path.get("fill") == colour_of("table")
    )
    across = [float(point.split()[0]) for point in table.get("d").strip("MZ").split("L")]
    assert np.ptp(across) == pytest.approx(102, abs=0.02)


def test_the_scale_is_the_largest_that_fits():
    """And the smallest there is where none does."""
    plan = table_plan(CORNICE, fence_on_table(CORNICE), Units())

    for wide, high in ((330, 260), (180, 180), (120, 120)):
        scale = fitting_scale(plan, wide, high)
        larger = SCALES[SCALES.index(scale) - 1]
        assert plan.size(scale)[0] <= wide
        assert plan.size(scale)[1] <= high
        assert plan.size(larger)[0] > wide or plan.size(larger)[1] > high
    assert fitting_scale(plan, 1, 1) == SCALES[-1]


@pytest.mark.parametrize(("place", "gap"), [(2, 92.075), (3, 25.4)])
def test_a_rip_fence_is_dimensioned_to_the_side_of_the_kerf_that_is_measured_to(place, gap):
    """A step of 3/8 by 1/4 in off 4 by 1 1/4 in: what stays beside the kerf, 3 5/8 in, and on its edge 1 in."""
    report = setups_report_of("base-of-two-coves").reports[place]
    rows = table_plan(report.scene, report.layout, Units("mm")).rows
    set_by = [one for edge in rows.values() for row in edge for one in row if one.weighty]

    assert len(set_by) == 2
    for one in set_by:
        assert one.ends[1] - one.ends[0] == pytest.approx(gap, abs=1e-9)
        assert one.label == f"fence to teeth {gap:.1f} mm"
        kerf = [abs(end) for end in one.ends if abs(end) < 2]
        assert kerf == pytest.approx([25.4 / 16])  # half a kerf of 1/8 in from the blade's middle
