"""The picture of each screen of a phone at the saw, by what it shows."""

from __future__ import annotations

from typing import assert_never

from sweep.show.draw.at_saw.above import guards, strips
from sweep.show.draw.at_saw.pieces import pieces
from sweep.show.draw.at_saw.room import HEIGHT, WIDTH, is_flat
from sweep.show.draw.at_saw.wood import after_pass, before_and_after, block_end, finished, on_the_saw, stock_end
from sweep.show.draw.fence_sketch import fence_sketch
from sweep.show.draw.on_saw import WORDS_BELOW, fitting_scale, height_at, on_saw_drawing
from sweep.show.draw.sketch import Drawing, trimmed
from sweep.show.say.at_saw.screen import ScreenPicture
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport

_ROOM = 1.5  # above and below what is drawn, mm of drawing
_TALL = 54.0  # a table is nearly square, mm of drawing


def picture_of(picture: ScreenPicture, report: Report | SetupsReport) -> tuple[Drawing, str]:
    """Return the drawing of a picture, no higher than it must be, and what it shows, for those who cannot see it."""
    drawn, says = _drawn(picture, report)
    return trimmed(drawn, _ROOM), says


def _drawn(picture: ScreenPicture, report: Report | SetupsReport) -> tuple[Drawing, str]:
    one = report if isinstance(report, Report) else report.reports[picture.place]
    number, scene = picture.number, one.scene
    match picture.view:
        case "stock":
            return stock_end(one), "The end of a blank, the edge for the fence marked"
        case "lies":
            assert isinstance(report, SetupsReport)
            if is_flat(scene.stock):  # all of it would be a thin strip
                return on_the_saw(
                    one, 1, scene.setup.blade_height
                ), "How the stock lies on the saw, the part at the cut"
            return _lies(one, report, picture.place), "How the stock lies on the saw, and what this set-up takes"
        case "block":
            return block_end(one), "The end of the set-up block with the cut drawn on it"
        case "height":
            return on_the_saw(one, 1, scene.setup.blade_height), "The blade at its full height beside the block"
        case "fence":
            return fence_sketch(scene, one.layout, one.units, WIDTH, _TALL), "The fence on the table, from above"
        case "strips":
            return strips(one), "Two strips over the blade, from above, each against the rim"
        case "guards":
            return guards(one), "What holds, covers and carries the work, from above"
        case "pass":
            height = one.job.passes[number - 1].height
            return on_the_saw(one, number, height), f"The wood on the saw before pass {number}, the blade at its height"
        case "wood":
            return after_pass(one, number), f"The wood as it should look after pass {number}"
        case "finishing":
            made = report.job.finishing if isinstance(report, Report) else report.moulding.finishing
            done = next(each for each in made if each.number == number)
            return before_and_after(done), "What this takes of the section"
        case "pieces":
            assert report.cut_list is not None
            return pieces(report.cut_list, report.units), "The pieces as they are cut off, by length"
        case "mitred":
            assert report.cut_list is not None
            return pieces(report.cut_list, report.units, mitred=True), "The pieces with their mitres"
        case "kept":
            return finished(report), "The end of the block that is kept"
        case other:
            assert_never(other)


def _lies(one: Report, report: SetupsReport, place: int) -> Drawing:
    """Return the stock as it lies for a set-up, without the words, which stand below it on the screen."""
    scale = fitting_scale(report.moulding, WIDTH, HEIGHT + WORDS_BELOW)
    high = height_at(report.moulding, scale)
    drawn = on_saw_drawing(one, report.moulding, place, scale, WIDTH, high)
    seen = high - WORDS_BELOW + 1.0
    parts = [part for part in drawn["parts"] if "text" not in part and part["rings"][0][0][1] <= seen]
    return drawn | {"height": seen, "parts": parts}
