"""End grain drawn here and traced: to within 0.15 mm, whatever the light, and in the frame of the face on the table."""

from __future__ import annotations

import io
import math
import re
import zlib
from functools import cache

import numpy as np
import pytest
import shapely
from end_grain import end_grain
from PIL import Image

from sweep.errors import SceneError, UnusableError
from sweep.plan.match import match_offcut
from sweep.scene.target import Target
from sweep.shape.outline import curves, settings
from sweep.shape.tool import flat_tips
from sweep.trace import child
from sweep.trace.face import SOFT, trace
from sweep.trace.outline import outline_of
from sweep.trace.reader import Seen
from sweep.trace.scale import read_scale
from sweep.trace.written import points_text

BLADE, ANGLE, HEIGHT = flat_tips(127.0, 3.2), math.radians(28), 16.0
COVE = curves(BLADE, settings(ANGLE, 0.0, HEIGHT), 24)[0]
WIDE, THICK = 92.0, 22.5
SECTION = np.vstack([[-WIDE / 2, 0], COVE, [WIDE / 2, 0], [WIDE / 2, THICK], [-WIDE / 2, THICK]])
SCALE = read_scale("100 mm = 800 px", None)
SEEN = ("size", "roughness", "soft", "compressed", "pixel")

LIGHTS = {
    "noise, a slant and shade": {"noise": 0.03, "turn": 0.03, "shade": 0.5, "gradient": 0.3},
    "on black paper": {"bench": (0.03, 0.03, 0.03), "noise": 0.02},
    "grey, on white": {"wood": (0.3, 0.3, 0.3), "bench": (0.9, 0.9, 0.9), "noise": 0.02},
    "shade as dark as the wood": {"bench": (0.9, 0.9, 0.9), "shade": 0.5, "noise": 0.02},
    "shade darker than the wood": {"bench": (0.9, 0.9, 0.9), "shade": 0.7, "noise": 0.02},
}


def jpeg(picture, kind="JPEG", **settings_of):
    """A picture as a file."""
    written = io.BytesIO()
    Image.fromarray(picture).save(written, kind, **settings_of)
    return written.getvalue()


def seen(picture):
    """What is found in a picture, as the program has it from its process."""
    found = outline_of(picture.astype(np.float32) / 255)
    return Seen(found.outline, picture.shape[1::-1], found.roughness, found.soft, 0.0, 1, b"")


@cache
def slanting():
    """What is found in a picture that lies a little aslant, with some noise."""
    return seen(end_grain(SECTION, noise=0.02, turn=0.02)[0])


def off(points, outline, pixels_per_mm=8):
    """How far points lie from the outline that was drawn, mm."""
    ring = shapely.LinearRing(outline)
    return shapely.distance(ring, shapely.points(points)) / pixels_per_mm


@pytest.mark.parametrize("light", LIGHTS)
def test_an_end_grain_is_traced_to_within_0_15_mm(light):
    """Turned a little, with noise, in shade, on any paper; and to the accuracy that is said, root mean square."""
    picture, outline = end_grain(SECTION, **LIGHTS[light])
    traced = trace(seen(picture), SCALE, None, "points")
    away = off(traced.pixels, outline)

    assert away.max() < 0.15
    assert math.sqrt((away**2).mean()) < 1.3 * traced.accuracy
    assert traced.side == "bottom" and traced.is_clear
    assert traced.width == pytest.approx(WIDE, abs=0.3)


def test_shade_that_is_taken_for_wood_is_told():
    """In a grey picture nothing tells shade from wood but that its edge is soft; in colour it is no wood."""
    picture, outline = end_grain(SECTION, noise=0.02, shade=0.4, bench=(0.9, 0.9, 0.9))
    grey = np.repeat(np.asarray(Image.fromarray(picture).convert("L"))[..., None], 3, 2)
    found_in_grey, found_in_colour = seen(grey), seen(picture)
    in_grey, in_colour = (trace(one, SCALE, None, "whole") for one in (found_in_grey, found_in_colour))
    wrong = (off(found_in_grey.outline, outline) > 0.15).mean()

    assert off(in_colour.pixels, outline).max() < 0.25  # at the corners, which points about them round
    assert in_colour.is_clear
    assert wrong > 0.2 and not in_grey.is_clear
    assert 2 * SOFT < in_grey.soft < 1.2 * wrong


def test_half_of_the_light_is_taken_in_linear_light():
    """Pale wood on black, out of focus: half of what is coded would lie half a pixel further out."""
    picture, outline = end_grain(SECTION, bench=(0.01, 0.01, 0.01), wood=(0.8, 0.8, 0.78), blur=1.5, margin=12)
    found = outline_of(picture.astype(np.float32) / 255).outline
    straight = found[(found[:, 0] > 300) & (found[:, 0] < 600) & (found[:, 1] < 120)]  # along the back

    assert straight[:, 1].mean() == pytest.approx(outline[:, 1].min(), abs=0.25)


@pytest.mark.parametrize(("turn", "side"), [(0.5, "right"), (1.5, "left")])
def test_the_face_is_found_on_whichever_side_it_lies(turn, side):
    """The points are the same as with the face below: nothing is mirrored."""
    picture, _ = end_grain(SECTION * (1, 1), turn=turn * math.pi + 0.02)
    traced = trace(seen(picture), SCALE, None, "points")
    points = traced.placed(traced.pixels)

    assert traced.side == side
    assert points[0, 0] < -40 and points[-1, 0] > 40
    assert points[:, 1].max() == pytest.approx(HEIGHT, abs=0.15)


def test_a_lop_sided_cove_is_not_mirrored():
    """Its steep flank stays on its side, whichever way the picture lies."""
    leaning = curves(BLADE, settings(math.radians(30), math.radians(20), 14.0), 24)[0]
    section = np.vstack([[-40, 0], leaning, [40, 0], [40, 20], [-40, 20]])
    top = leaning[leaning[:, 1].argmax(), 0] - leaning[[0, -1], 0].mean()
    for turn in (0.0, math.pi):
        traced = trace(seen(end_grain(section, turn=turn)[0]), SCALE, None, "cove")
        points = traced.placed(traced.pixels)

        assert abs(top) > 2
        assert points[points[:, 1].argmax(), 0] == pytest.approx(top, abs=1.5)


def test_what_is_traced_is_matched_with_the_set_up_that_cut_it():
    """By the program's own file of points, with the accuracy that is said."""
    traced = trace(slanting(), SCALE, None, "points")
    text = points_text(traced, traced.pixels)
    points = [[float(cell) for cell in row.split(",")] for row in text.splitlines()[2:]]
    found = match_offcut(BLADE, points, (0.0, 0.0), 0.06)

    assert found.by_this_blade
    assert found.fence_angle.value == pytest.approx(ANGLE, abs=math.radians(0.2))
    assert found.blade_height.value == pytest.approx(HEIGHT, abs=0.08)


@pytest.mark.parametrize("kind", ["cove", "whole"])
def test_what_is_traced_is_a_target_of_a_scene(kind):
    """A cove from edge to edge on the face, or the whole section, closed."""
    traced = trace(slanting(), SCALE, None, kind)
    rows = points_text(traced, traced.pixels).splitlines()[2:]
    points = [[float(cell) for cell in row.split(",")] for row in rows]
    target = Target.model_validate({"shape": "points", "points": points, "whole": kind == "whole"})
    width, depth = target.size

    if kind == "cove":
        assert points[0][1] == points[-1][1] == 0.0
        assert (width, depth) == pytest.approx((np.ptp(COVE[:, 0]), HEIGHT), abs=0.2)
    else:
        assert points[0] == points[-1]
        assert shapely.Polygon(points).symmetric_difference(shapely.Polygon(SECTION)).area < 0.15 * 250


def test_points_are_as_good_as_their_pixels():
    """Half as many a mm, and points are about half as good."""
    coarse = trace(seen(end_grain(SECTION, 4, noise=0.02)[0]), read_scale("10 mm = 40 px", None), None, "points")
    fine = trace(slanting(), SCALE, None, "points")

    assert 1.5 < coarse.accuracy / fine.accuracy < 2.6


def test_where_two_sides_are_hollow_the_maker_says_which():
    """Or one is refused that has none."""
    arc = np.column_stack([np.linspace(-15, 15, 31), 6 * np.cos(np.linspace(-math.pi / 2, math.pi / 2, 31))])
    section = np.vstack([[-30, 0], arc, [30, 0], [30, 30], arc[::-1] * (1, -1) + (0, 30), [-30, 30]])
    found = seen(end_grain(section)[0])
    with pytest.raises(SceneError, match=r"there is a hollow on the (bottom|top) and on the (bottom|top); say which"):
        trace(found, SCALE, None, "points")
    with pytest.raises(SceneError, match="the wood has no hollow on the left"):
        trace(found, SCALE, "left", "points")

    assert trace(found, SCALE, "top", "points").side == "top"


def test_a_hollow_of_a_pixel_is_none():
    """Nothing can be said of it, and the scale is likely that of another picture."""
    dent = np.column_stack([np.linspace(-15, 15, 31), 0.15 * np.cos(np.linspace(-math.pi / 2, math.pi / 2, 31))])
    section = np.vstack([[-30, 0], dent, [30, 0], [30, 12], [-30, 12]])
    with pytest.raises(
        SceneError, match=r"IMAGE: its hollow is shallower than 1\.5 mm; give the scale of this picture"
    ):
        trace(seen(end_grain(section)[0]), read_scale("100 mm = 200 px", None), None, "points")


@pytest.mark.parametrize(
    ("picture", "says"),
    [
        (lambda: np.full((200, 300, 3), 255, np.uint8), "nothing stands out from the background"),
        (lambda: np.zeros((200, 300, 3), np.uint8), "nothing stands out from the background"),
        (
            lambda: np.random.default_rng(0).integers(0, 256, (200, 300, 3), np.uint8),
            "(too much alike|less than 1 %|cut off)",
        ),
        (lambda: np.pad(np.full((8, 8, 3), 200, np.uint8), ((150, 150), (150, 150), (0, 0))), "takes less than 1 %"),
        (lambda: end_grain(SECTION)[0][:, :300], "the wood is cut off at the picture's edge"),
        (
            lambda: np.repeat(end_grain(SECTION, noise=0.03, shade=0.4)[0][..., 1:2], 3, 2),
            "(outline is not clear|much alike)",
        ),
    ],
    ids="white black noise crumb cut-off shade".split(),
)
def test_a_picture_without_wood_in_it_is_refused(picture, says):
    """White, black, noise, a crumb, and wood that is cut off."""
    with pytest.raises(UnusableError, match=says):
        outline_of(picture().astype(np.float32) / 255)


@cache
def block():
    """A picture and the outline of the wood in it."""
    return end_grain(SECTION, 4, noise=0.02, bench=(0.9, 0.9, 0.9))


def with_exif(orientation):
    """The picture stored turned, with the mark that says how it is upright."""
    stored = Image.fromarray(block()[0]).transpose(
        {3: Image.Transpose.ROTATE_180, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}[orientation]
    )
    exif = Image.Exif()
    exif[0x0112] = orientation
    written = io.BytesIO()
    stored.save(written, "JPEG", quality=90, exif=exif)
    return written.getvalue()


def in_mode(mode, kind="PNG"):
    """The picture in another mode of the library."""
    written = io.BytesIO()
    picture = Image.fromarray(block()[0])
    picture = picture.quantize(64) if mode == "P" else picture.convert(mode)
    picture.save(written, kind, **({"quality": 95} if kind == "JPEG" else {}))
    return written.getvalue()


def of_16_bits():
    """A grey picture of 16 bits."""
    written = io.BytesIO()
    Image.fromarray(np.asarray(Image.fromarray(block()[0]).convert("L")).astype(np.uint16) * 257).save(written, "PNG")
    return written.getvalue()


@pytest.mark.parametrize(
    "content",
    [
        lambda: jpeg(block()[0], quality=90),
        lambda: jpeg(block()[0], "PNG"),
        of_16_bits,
        lambda: in_mode("L"),
        lambda: in_mode("P"),
        lambda: in_mode("RGBA"),
        lambda: in_mode("CMYK", "JPEG"),
        lambda: with_exif(3),
        lambda: with_exif(6),
        lambda: with_exif(8),
    ],
    ids="jpeg png 16-bit grey palette alpha cmyk exif-3 exif-6 exif-8".split(),
)
def test_a_picture_of_any_kind_is_traced_alike(content):
    """In pixels of the picture as it is shown, upright."""
    answer = child.answer(content(), 10_000_000)

    assert "problem" not in answer
    assert answer["size"] == [block()[0].shape[1], block()[0].shape[0]]
    assert np.quantile(off(np.array(answer["outline"]), block()[1], 4), 0.99) < 0.15
    assert (answer["compressed"] > 0) is content().startswith(b"\xff\xd8")


@pytest.mark.parametrize("light", [{}, {"bench": (0.9, 0.9, 0.9), "shade": 0.5}], ids=["even light", "shade"])
@pytest.mark.parametrize("quality", [80, 60])
def test_the_accuracy_that_is_said_of_a_jpeg_has_in_it_what_compression_does(light, quality):
    """With its colour kept half as finely; in a PNG of the same picture nothing is."""
    picture, outline = end_grain(SECTION, 4, noise=0.02, turn=0.01, **light)
    answer = child.answer(jpeg(picture, quality=quality, subsampling=2), 10_000_000)
    found = Seen(np.array(answer.pop("outline")), **{name: answer[name] for name in SEEN}, picture=b"")
    traced = trace(found, read_scale("100 mm = 400 px", None), None, "points")
    away = off(traced.pixels, outline, 4)

    assert math.sqrt((away**2).mean()) < traced.accuracy
    assert (away > 1.96 * traced.accuracy).mean() < 0.1  # neighbours lie off together, so chance allows more than 5 %
    assert 0.3 < traced.compressed / traced.accuracy < 0.9


def test_a_large_picture_is_made_smaller_and_its_outline_is_not():
    """By a whole number: pixels are those of the picture that was given, and its middle stays to a part of one."""
    large = Image.fromarray(block()[0]).resize((block()[0].shape[1] * 6, block()[0].shape[0] * 6))
    answer = child.answer(jpeg(np.asarray(large)), 20_000_000)
    outline = (np.array(answer["outline"]) + 0.5) / 6 - 0.5
    small = outline_of(block()[0].astype(np.float32) / 255).outline
    middles = [np.quantile(one, [0.02, 0.98], axis=0).mean(axis=0) for one in (outline, small)]

    assert answer["pixel"] == 2
    assert middles[0] == pytest.approx(middles[1], abs=0.25 / 6)
    assert np.quantile(off(outline, block()[1], 4), 0.99) < 0.15


def bomb():
    """A PNG of a few bytes that says it has 900 million pixels."""
    head = b"IHDR" + (30000).to_bytes(4) * 2 + b"\x08\x02\0\0\0"
    return b"\x89PNG\r\n\x1a\n\0\0\0\r" + head + zlib.crc32(head).to_bytes(4) + b"\0\0\0\0IDAT" + bytes(4)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (lambda: b"", "this picture cannot be read"),
        (lambda: b"GIF89a" + bytes(100), "this picture cannot be read"),
        (lambda: jpeg(block()[0], "PNG")[:9000], "this picture cannot be read"),
        (lambda: jpeg(block()[0])[:3000], "this picture cannot be read"),
        (lambda: jpeg(block()[0])[:300] + bytes(3000), "(cannot be read|nothing stands out)"),
        (bomb, "it has 30000 x 30000 pixels, more than 10 million"),
        (lambda: jpeg(np.zeros((40, 400, 3), np.uint8), "PNG"), "it has 400 x 40 pixels"),
        (lambda: jpeg(np.zeros((4000, 4000), np.uint8), "PNG"), "it has 4000 x 4000 pixels, more than 10 million"),
        (lambda: jpeg(block()[0], "GIF"), "this picture cannot be read"),
    ],
    ids="nothing gif cut-png cut-jpeg noise bomb flat large gif-of-wood".split(),
)
def test_a_file_that_is_no_picture_of_ours_is_told_in_words(content, says):
    """Never an error, whatever the library makes of it."""
    answer = child.answer(content(), 10_000_000)

    assert set(answer) == {"problem", "remedy"}
    assert re.search(says, answer["problem"])


@pytest.mark.parametrize(
    ("scale", "marks", "size"),
    [
        ("50 mm = 412 px", None, 50 / 412),
        ("2 in=400.5px", None, 50.8 / 400.5),
        (None, "100,80 500,380 = 50 mm", 0.1),
        (None, "0.5,0 0.5, 100 = 3 1/2 in", 0.889),
    ],
)
def test_a_scale_is_read_in_either_way(scale, marks, size):
    """Lengths in mm and inches, marks anywhere."""
    assert read_scale(scale, marks).mm_per_pixel == pytest.approx(size)


@pytest.mark.parametrize(
    ("scale", "marks", "says"),
    [
        (None, None, "--scale: no scale is given"),
        ("1 mm = 30 px", "0,0 9,9 = 1 mm", "--scale: the scale is given in two ways"),
        ("50 = 412 px", None, "--scale: '50' has no unit"),
        ("50 mm", None, "--scale: '50 mm' is no scale"),
        ("50 mm = 4 px", None, "--scale: the marks are 4 pixels apart; take marks at least 20 apart."),
        ("20 m = 412 px", None, "--scale: a pixel would be"),
        ("0 mm = 412 px", None, "--scale: a pixel would be"),
        (None, "10,10 10,10 = 5 mm", "--marks: the marks are 0 pixels apart"),
        (None, "10 10 20 20 = 5 mm", "--marks: '10 10 20 20 = 5 mm' is no scale"),
        ("9" * 400 + " mm = 50 px", None, "--scale: '9999"),
    ],
)
def test_a_scale_that_is_none_is_refused(scale, marks, says):
    """In one sentence that names the option."""
    with pytest.raises(SceneError) as wrong:
        read_scale(scale, marks)
    assert str(wrong.value).startswith(says)
