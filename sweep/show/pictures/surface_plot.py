"""`surface.png`: how high the tooth marks stand along the profile, and a close-up of the highest in true proportion."""

from __future__ import annotations

from pathlib import Path

from sweep.cut.surface import Surface, surface_of
from sweep.scene.keys import Stock
from sweep.show.draw.paint_png import Laid, Painted, write_png
from sweep.show.draw.ridges import ridges_drawing
from sweep.show.draw.ridges_close_up import cut_along_feed, feed_is_to_the_right, square_on
from sweep.show.draw.sketch import Part
from sweep.show.pictures.layout import HEADING, MM, foot, head, laid, laid_out, line
from sweep.show.say.cautions import LINE as CAUTION
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.units import Units

SIZE = (2200, 1360)
"""Pixels."""

_LEFT, _RIGHT = (60, 970), (1230, 640)  # left side and width of the two halves, pixels
_SQUARE_ON, _CUT = (290, 430), (800, 300)  # top and height of the two close-ups


def surface_picture(report: Report) -> Painted:
    """Return `surface.png`."""
    scene, units = report.scene, report.units
    surface = surface_of(scene, runout=0.0, wobble=0.0)
    facts = [
        f"last pass at {units.feed(report.job.passes[-1].feed_speed)}",
        f"{units.minute(surface.feed_per_tooth)} a tooth",
        f"highest ridge {units.minute(surface.largest)}",
    ]
    if report.surface.largest > surface.largest:
        facts.append(f"with run-out and wobble {units.fine(report.surface.largest)}, not drawn")
    second = ", each corner by every second tooth" if scene.blade.stagger == 2 else ""
    lines = (
        f"Sharp, equal teeth{second}. Half the last feed leaves half the ridge.",
        f"Tear-out, run-out, wobble and vibration are not in it. {CAUTION}",
    )
    heading = head("Tooth marks after the last pass", title_of(scene, 70), "   ·   ".join(facts))
    around = [*heading, *foot(*SIZE, *lines)]
    if surface.where is None:
        return Painted(
            laid_out(*SIZE, around, [line("the last pass misses the stock", SIZE[0] / 2, 600, HEADING, "centre")])
        )
    (left, width), (top, height) = _RIGHT, _SQUARE_ON
    relief = Laid(left, top, square_on(surface, width, height))
    return Painted(
        laid_out(*SIZE, around, _along_profile(scene.stock, surface, units), _close_up(surface, units)), (relief,)
    )


def write_surface(path: Path, report: Report) -> None:
    """Draw `surface.png`."""
    write_png(path, surface_picture(report))


def _along_profile(stock: Stock, surface: Surface, units: Units) -> list[Part]:
    left, width = _LEFT
    heading = line("height of the ridges, from side to side", left + width / 2 + 95, 222, HEADING, "centre")
    return [heading, *laid(ridges_drawing(stock, surface, units, width / MM), left, 270)]


def _close_up(surface: Surface, units: Units) -> list[Part]:
    """Return what stands about the highest ridges seen square on, and below, to one scale, them cut along the feed."""
    left, width = _RIGHT
    (top, _), (cut, height) = _SQUARE_ON, _CUT
    right = feed_is_to_the_right(surface)
    arrow = "feed \N{RIGHTWARDS ARROW}" if right else "\N{LEFTWARDS ARROW} feed"
    below = "cut along the feed, square to the surface; wood below"
    return [
        line("the highest ridges, in true proportion", left + width / 2, 222, HEADING, "centre"),
        line("seen square on, the table below", left, top - 26, colour="faint"),
        line(arrow, left + width, top - 26, anchor="right", colour="faint"),
        *laid(cut_along_feed(surface, units, width / MM, height / MM), left, cut),
        line(below, left, cut + height + 28, colour="faint"),
    ]
