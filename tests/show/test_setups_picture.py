"""`setups.png`: what each set-up takes is painted in the colour that the legend gives it, and no word is hidden."""

from __future__ import annotations

import itertools
import math
from functools import cache

import mouldings
import numpy as np
import pytest
import shapely
from demos import SEVERAL
from drawn import coarse_solids, crowded, is_drawn, is_free, pixels_of, texts_of, words_of
from reports import COARSE, setups_report_of

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import scene_from
from sweep.shape import section
from sweep.show.draw.colours import WOOD, deviation_colours, hexed, made_colours, setup_colours
from sweep.show.draw.on_saw import fitting_scale, on_saw_drawing
from sweep.show.draw.setups import left_drawing, setups_drawing, setups_frame, takings
from sweep.show.pictures import setups, stills
from sweep.show.pictures.fence_plan import fence_picture
from sweep.show.pictures.layout import MM
from sweep.show.pictures.load_plot import load_picture
from sweep.show.pictures.setups import setups_picture, solids_of_setups
from sweep.show.say.report import Report
from sweep.units import Units


@pytest.fixture(scope="module")
def draw(drawn):
    """A function that draws the picture of a scene, once."""

    @cache
    def drawn(name):
        report = setups_report_of(name)
        return setups_picture(report, coarse_solids(solids_of_setups(report)))

    return drawn


def area_in(drawing, fill):
    """The area that a drawing paints in a colour, mm2 of paper, holes off it: the shoelace of its rings."""
    total = 0.0
    for part in drawing["parts"]:
        if part.get("fill") == fill:
            x, y = (np.array([np.array(ring)[:, k] for ring in part["rings"]], object) for k in (0, 1))
            total += abs(sum(np.dot(a, np.roll(b, -1)) - np.dot(b, np.roll(a, -1)) for a, b in zip(x, y, strict=True)))
    return total / 2


@pytest.mark.parametrize("name", SEVERAL)
def test_what_the_set_ups_take_falls_off_and_leave_is_the_stock(name):
    """Areas add up but for the chords, and what is cut is what the passes of that setting take."""
    moulding = setups_report_of(name).moulding
    stock, taken = moulding.scene.stock, takings(moulding)
    gone = sum(section.area(each.cut) + sum(map(section.area, each.fallen)) for each in taken)
    left = sum(section.area(piece.outline.figure) for piece in moulding.pieces)

    assert gone + left == pytest.approx(stock.width * stock.thickness, rel=1e-3)
    for job, each in zip(moulding.jobs, taken, strict=True):
        assert section.area(each.cut) == pytest.approx(sum(one.area for one in job.sections), rel=1e-3)


@pytest.mark.parametrize("name", SEVERAL)
def test_what_a_set_up_takes_is_painted_in_its_colour_and_the_legend_names_that(name, draw):
    """The area in each colour of the section is what that setting takes; the legend has the colours in order."""
    report = setups_report_of(name)
    moulding = report.moulding
    frame = setups_frame(moulding, 150.0, 60.0)
    section_drawn = setups_drawing(moulding, Units(), frame)
    colours = [hexed(colour) for colour in setup_colours(len(moulding.settings))]
    parts = draw(name).drawing["parts"]
    named = {
        part["text"]: before.get("fill")
        for before, part in itertools.pairwise(parts)
        if "text" in part and "rings" in before
    }

    assert len(set(colours)) == len(colours)
    for colour, setting, each in zip(colours, moulding.settings, takings(moulding), strict=True):
        assert area_in(section_drawn, colour) == pytest.approx(
            frame.scale**2 * section.area(each.cut), rel=1e-3, abs=0.05
        )
        assert named[f"{setting.asked.place}. {setting.name}"] == colour
    fallen = sum(section.area(one.figure) for one in moulding.fallen)
    assert area_in(section_drawn, "taken") == pytest.approx(frame.scale**2 * fallen, rel=1e-3)
    assert named.get("falls off") == ("taken" if fallen else None)


@pytest.mark.parametrize("name", SEVERAL)
def test_each_setting_has_a_panel_with_its_stock_on_the_table_and_at_the_fence(name, draw):
    """The wood lies on the table, one side of it at the fence, and what is taken has the set-up's colour."""
    report = setups_report_of(name)
    moulding = report.moulding
    scale = fitting_scale(moulding, 60.0, 70.0)
    colours = [hexed(colour) for colour in setup_colours(len(moulding.settings))]
    said = texts_of(draw(name).drawing)
    assert len(draw(name).laid) == 1 if report.verdict.whole is None else 3  # solids, and the bar of their colours
    for place, (setting, one) in enumerate(zip(moulding.settings, report.reports, strict=True)):
        panel = on_saw_drawing(one, moulding, place, scale, 60.0, 70.0)
        wood, fence, table = (
            np.vstack([ring for part in panel["parts"] if part.get("fill") == fill for ring in part["rings"]])
            for fill in ("wood", "fence", "table")
        )
        near = setting.whole.setup.fence_side == "near"
        at_fence = wood[:, 0].max() - fence[:, 0].min() if near else wood[:, 0].min() - fence[:, 0].max()
        assert at_fence == pytest.approx(0.0, abs=0.01)
        assert wood[:, 1].max() == pytest.approx(table[:, 1].min(), abs=0.01)
        assert wood[:, 1].min() >= 0
        assert 0 <= min(wood[:, 0].min(), fence[:, 0].min()) < max(wood[:, 0].max(), fence[:, 0].max()) <= 60.0
        taken = sum(one.area for one in moulding.jobs[place].sections)
        swatch = 3.4 * 2.8
        assert area_in(panel, colours[place]) - swatch == pytest.approx(scale**2 * taken, rel=0.01, abs=0.01)
        assert f"{place + 1}. {setting.name}" in said


@pytest.mark.parametrize("name", SEVERAL)
def test_no_two_words_overlap_and_none_leaves_the_page(name, draw):
    """The rooms of all the words are apart, and the border stays free."""
    assert crowded(words_of(draw(name).drawing), 0.1) == []
    picture = pixels_of(draw(name))
    assert picture.shape == (round(draw(name).drawing["height"] * MM), setups.WIDTH, 3)
    assert 0.08 < is_drawn(picture).mean() < 0.5
    assert is_free(picture, 20)


def test_what_is_left_is_coloured_by_how_much_it_is():
    """Every stretch of the coloured line has the colour of the wood above it there, by distances taken anew."""
    report = setups_report_of("ogee-crown")
    moulding, whole = report.moulding, report.verdict.whole
    frame = setups_frame(moulding, 150.0, 60.0)
    wood = shapely.union_all([piece.outline.figure for piece in moulding.pieces])
    stretches = [
        part for part in left_drawing(moulding, whole, Units(), frame)["parts"] if part.get("stroke") == "ribbon"
    ]
    assert len(stretches) > 20
    for part in stretches:
        ring = np.array(part["rings"][0])
        y, z = ((ring[:-1] + ring[1:]) / 2 - (frame.middle, frame.base)).T / frame.scale * [[1], [-1]]
        above = np.median(shapely.distance(shapely.points(y, z), shapely.boundary(wood)))
        shown = [float(int(part["stroke_colour"][k : k + 2], 16)) / 255 for k in (1, 3, 5)]
        assert shown == pytest.approx(deviation_colours(above / whole.thickest_left), abs=0.06)


@pytest.mark.parametrize("name", SEVERAL)
def test_every_face_of_the_moulding_has_the_colour_of_the_set_up_that_cut_it(name):
    """Seen at the middle of the stock: a face that lies on the outline of what a setting took has its colour."""
    moulding = setups_report_of(name).moulding
    batch = solids_of_setups(setups_report_of(name))[0]
    mesh, colours, _ = batch.meshes[0]
    middles = mesh.vertices[mesh.triangles].mean(axis=1)
    by_setting = setup_colours(len(moulding.settings))
    seen = set()
    for colour, (_, y, z) in zip(colours, middles, strict=True):
        for place in np.flatnonzero((by_setting == colour).all(axis=1)):
            grown = section.grown(takings(moulding)[place].cut, 0.1)
            assert section.holds(grown, np.array([[y, z]])).all()
            seen.add(int(place))
    assert seen == set(range(len(moulding.settings)))


def test_passes_of_one_set_up_share_its_colour_and_finishing_has_its_own():
    """Two passes, one pass and two operations: wood, one colour twice, another, and one for both operations."""
    colours = made_colours([2, 1], 2)
    assert len(colours) == 6
    assert (colours[1] == colours[2]).all() and (colours[4] == colours[5]).all()
    assert len({tuple(colour) for colour in colours}) == 4
    assert math.isclose(float(np.abs(colours[1:4] - np.vstack([setup_colours(2)[[0, 0, 1]]])).max()), 0.0)


def test_a_rip_has_no_angle_to_set_in_any_picture():
    """Its fence is told from the teeth, on the left or on the right; nowhere does an angle of 0 stand, nor a tape."""
    report = setups_report_of("coved-panel-edge").reports[2]
    pictures = (
        fence_picture(report),
        load_picture(report),
        stills.stills_picture(report, [[np.zeros((8, 8, 3), np.uint8)]]),
    )
    said = [text for picture in pictures for text in texts_of(picture.drawing)]

    assert not [words for words in said if "0.00\N{DEGREE SIGN}" in words and "tilted" not in words]
    assert not [words for words in said if "strips" in words or "marks" in words]
    assert len([words for words in said if "rip fence on the left" in words]) == 2
    assert len([words for words in said if "340.0 mm from the nearest teeth" in words]) == 1
    assert "fence, on the left" in said


def test_one_set_up_against_a_whole_moulding_is_coloured_by_what_is_left_above_it():
    """Every corner of a cut face by its distance from the body, told by plane geometry alone; planed faces are wood."""
    line = np.array([(-40.0, 0), (-30, 0), (0, 14), (30, 0), (40, 0)])
    tables = mouldings.scene_of(line, 80, 22, blades=1, tilts=0)
    tables |= {"setup": {"fence_angle": "30 deg", "blade_height": "9 mm", "blade": "large"}}
    report = Report(judge(simulate(complete(scene_from(tables)).scene, COARSE)), Units("mm"))
    _, by_left = stills.solids_of(report)
    mesh, colours, cut = by_left.meshes[0]
    wanted = shapely.Polygon([*line, (40, 22), (-40, 22)])
    points = shapely.points(mesh.vertices[mesh.triangles[cut]][..., 1:])
    above = shapely.distance(points, wanted)

    assert above.max() > 3 and shapely.covers(wanted, points).sum() == 0
    assert colours[cut] == pytest.approx(deviation_colours(above / report.outcome.whole.thickest_left), abs=0.02)
    assert (colours[~cut] == WOOD).all()
