"""Fed square at 90 deg the cove is a segment of a circle: what printed tables and worked examples say of it.

Each row names where it was read; `FROM_MEMORY` is what was not.

- Handbook: Machinery's Handbook, 31st ed., https://online.flippingbook.com/view/954192180/61 (p. 50) and /90 (p. 79).
- Mensuration: 'The areas of the segments of a circle', diameter 1, six figures, the rest cut off rather than rounded,
  p. 395, https://books.google.cat/books?id=uJ0RAAAAIAAJ&pg=PA395.
- Hydraulics: part-full circle, A/D^2 and T/D at y/D, https://engdatabase.com/data/open-channel-geometry/circular.
- Worked: two worked examples, https://matheass.eu/help/en/E210-Circular_Sections.html.
"""

import math

import pytest
from oracles import disc_section_area, disc_section_width

from sweep.cut.stages import stage
from sweep.scene.model import Scene
from sweep.scene.read import scene_from
from sweep.shape import section, solid
from sweep.shape.feed import StraightFeed
from sweep.shape.tool import flat_tips

RADIUS, KERF, LENGTH = 127.0, 3.2, 50.0
"""mm. A common blade: rows for another radius are scaled to it."""
SQUARE = math.pi / 2
CHORD = 0.001
"""mm. Of the meshed rim."""
FINEST = 1e-7
"""mm. Of the plane section: finer than the last figure of any row."""

CHORDS = [
    # radius, height, chord of the segment, by how much the last printed figure may be out
    pytest.param(12.0, 2.0, 13.27, 0.005, id="handbook p. 50, example 3"),
    pytest.param(60.0, 8.0, 59.86, 0.01, id="handbook p. 79, example 1, twice a rounded half"),
    pytest.param(25 / 3, 6.0, 16.0, 1e-9, id="handbook p. 79, example 2, radius 8 1-3"),
    pytest.param(0.5, 0.05, 0.435890, 5e-7, id="hydraulics 0.05"),
    pytest.param(0.5, 0.10, 0.600000, 5e-7, id="hydraulics 0.10"),
    pytest.param(0.5, 0.15, 0.714143, 5e-7, id="hydraulics 0.15"),
    pytest.param(12.1875, 6.0, 21.0, 1e-9, id="worked, example 2"),
]

AREAS = [
    # radius, height, area of the segment, by how much the last printed figure may be out
    pytest.param(12.0, 2.0, 18.01, 0.005, id="handbook p. 50, example 4"),
    pytest.param(0.5, 0.05, 0.014681, 5e-7, id="hydraulics 0.05"),
    pytest.param(0.5, 0.10, 0.040875, 5e-7, id="hydraulics 0.10"),
    pytest.param(0.5, 0.15, 0.073875, 5e-7, id="hydraulics 0.15"),
    pytest.param(0.5, 0.300, 0.198168, 1e-6, id="mensuration 300"),
    pytest.param(0.5, 0.310, 0.207376, 1e-6, id="mensuration 310"),
    pytest.param(0.5, 0.350, 0.244980, 1e-6, id="mensuration 350"),
    pytest.param(0.5, 0.400, 0.293369, 1e-6, id="mensuration 400"),
    pytest.param(12.1875, 6.0, 89.254148, 5e-7, id="worked, example 2"),
]

FROM_MEMORY = [
    # Machinery's Handbook, 'Segments of circles for radius = 1': centre angle, height, chord, area.
    # From memory: no readable copy of that table's page was found, and these are no more than rounded closed forms.
    (30, 0.03407, 0.51764, 0.01180),
    (60, 0.13397, 1.00000, 0.09059),
    (90, 0.29289, 1.41421, 0.28540),
    (120, 0.50000, 1.73205, 0.61418),
]
LAST_FIGURE = 0.5e-5


def cut_square(height: float) -> section.Figure:
    """Return the section that the blade cuts at a height, fed square, mm."""
    return section.cut_section(flat_tips(RADIUS, KERF), StraightFeed(SQUARE), 0.0, height, FINEST)


def area_above_table(cut: section.Figure) -> float:
    """Return the area of the part of a cut that can meet wood, mm2."""
    return section.area(section.within(cut, section.stock_section(4 * RADIUS, RADIUS)))


def width_at_table(height: float) -> float:
    """Return the width between the edges of the cut on the table at a height, fed square, mm."""
    left, right = section.edges_at_table(flat_tips(RADIUS, KERF), StraightFeed(SQUARE), 0.0, height)
    return right - left


def fed_square(height: float) -> Scene:
    """Return a short job at 90 deg: one pass at a height in mm, in stock wide and thick enough for it."""
    return scene_from(
        {
            "stock": {"length": f"{LENGTH} mm", "width": "260 mm", "thickness": "130 mm"},
            "blade": {"diameter": f"{2 * RADIUS} mm", "kerf": f"{KERF} mm", "teeth": 40},
            "saw": {"speed": "4000 rpm"},
            "setup": {"fence_angle": "90 deg", "blade_height": f"{height!r} mm"},
            "passes": {"heights": [f"{height!r} mm"], "feed_speed": "1 m/min"},
        }
    )


@pytest.mark.parametrize(("radius", "height", "chord", "figure"), CHORDS)
def test_the_cut_is_as_wide_as_the_printed_chord(radius, height, chord, figure):
    """The closed form at the printed radius, and the edges of our blade's cut scaled to it."""
    scale = RADIUS / radius

    assert chord == pytest.approx(disc_section_width(radius, KERF, SQUARE, height), abs=figure)
    assert chord == pytest.approx(width_at_table(height * scale) / scale, abs=figure)


@pytest.mark.parametrize(("radius", "height", "area", "figure"), AREAS)
def test_the_cut_has_the_printed_area(radius, height, area, figure):
    """The closed form at the printed radius, and the plane section of our blade scaled to it."""
    scale = RADIUS / radius

    assert area == pytest.approx(disc_section_area(radius, KERF, SQUARE, height), abs=figure)
    assert area == pytest.approx(area_above_table(cut_square(height * scale)) / scale**2, abs=figure)


@pytest.mark.parametrize(("radius", "height", "area", "figure"), AREAS)
def test_the_solid_loses_the_printed_area_all_along(radius, height, area, figure):
    """Drawn out from the section and hulled, it loses no more than the table says and less only by the chords."""
    scale = RADIUS / radius
    scene = fed_square(height * scale)
    drawn_out = stage(scene, 0).volume - stage(scene, 1, chord=CHORD).volume
    (hull,) = solid.swept(scene.tool, scene.feed, scene.tilt, height * scale, (-RADIUS, LENGTH + RADIUS), CHORD)
    hulled = solid.volume(solid.common(stage(scene, 0).body, hull))
    arc = 2 * RADIUS * math.acos(1 - height / radius)
    least, most = (area - figure) * scale**2 - CHORD * arc, (area + figure) * scale**2

    assert least < drawn_out / LENGTH < most
    assert least < hulled / LENGTH < most


@pytest.mark.parametrize(("degrees", "height", "chord", "area"), FROM_MEMORY)
def test_the_rows_by_centre_angle_agree(degrees, height, chord, area):
    """Height, chord and area for radius 1, from the closed forms and from the section of our blade."""
    exact = 1 - math.cos(math.radians(degrees) / 2)
    cut = cut_square(exact * RADIUS)

    assert height == pytest.approx(section.height_of(cut) / RADIUS, abs=LAST_FIGURE)
    assert chord == pytest.approx(disc_section_width(1.0, KERF, SQUARE, exact), abs=LAST_FIGURE)
    assert chord == pytest.approx(width_at_table(exact * RADIUS) / RADIUS, abs=LAST_FIGURE)
    assert area == pytest.approx(disc_section_area(1.0, KERF, SQUARE, exact), abs=LAST_FIGURE)
    assert area == pytest.approx(area_above_table(cut) / RADIUS**2, abs=LAST_FIGURE)
