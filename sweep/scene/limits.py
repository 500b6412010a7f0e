"""What a pass is held against, and how exactly the saw can be set."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sweep.scene.fields import Area, Bound, Exact, ExactAngle, FenceAngle, Height, LongBound, Push, RimSpeed, Share
from sweep.scene.keys import Section
from sweep.scene.written import key

CALLIPERS, CALLIPERS_IN_INCHES = "0.1 mm", "4 thou"
"""One standard deviation of what is measured on wood, where nothing else is said."""

CALLIPERS_WHY = "callipers and a straightedge on sawn wood; our choice"


class Limits(Section):
    """Above or below these a pass is flagged."""

    rise: Height = key(
        "most rise of a pass; 1.6 to 3.2 mm (1/16 to 1/8 in)", "3.2 mm", inches="1/8 in", why="common practice"
    )
    chip_thickness: Exact = key(
        "thickest shaving",
        "0.15 mm",
        inches="6 thou",
        why="our choice for hand feed, after tool catalogues (from memory)",
    )
    area: Area = key("most that a pass takes from the section", "130 mm2", inches="0.2 in2", why="our choice")
    wood_above: Bound = key("least wood above the cove", "6 mm", inches="1/4 in", why="common practice")
    shoulder: Bound = key(
        "least flat beside the cove to ride on the table", "6 mm", inches="1/4 in", why="common practice"
    )
    contact: Bound = key(
        "least flat in all, both sides of the cove, to ride on the table", "19 mm", inches="3/4 in", why="our choice"
    )
    stock_length: LongBound = key("shortest stock to pass", "300 mm", inches="12 in", why="common practice")
    stock_width: Bound = key("narrowest stock to pass; push blocks are wider", "50 mm", inches="2 in", why="our choice")
    stock_thickness: Bound = key(
        "thinnest stock to pass; hands are no further from the blade", "15 mm", inches="5/8 in", why="our choice"
    )
    fence_angle: FenceAngle = key(
        "steepest fence; past 45 deg the stock goes more into the blade's side than along it",
        "45 deg",
        why="common practice",
    )
    rim_speed: RimSpeed = key(
        "fastest rim of a blade without a mark", "100 m/s", inches="19500 ft/min", why="common practice"
    )
    push: Push = key(
        "most to push with, friction of weight and featherboards in it", "130 N", inches="29 lbf", why="our choice"
    )
    side_deflection: Exact = key("most bending of the plate at the rim", "0.3 mm", inches="12 thou", why="our choice")
    gullet_fill: Share = key("most of a gullet's usable room", 0.7, why="from memory")
    thin_chip: Exact = key(
        "below it an edge is said to rub (a last pass may take half); the radius of an edge",
        "0.005 mm",
        inches="0.2 thou",
        why="from memory",
    )
    finish_wood: Bound = key(
        "least wood behind a face that a finishing operation cuts", "3 mm", inches="1/8 in", why="our choice"
    )


class Accuracy(Section):
    """How exactly the saw can be set: one standard deviation of each setting."""

    tape: Exact = key(
        "one standard deviation of each of the two marks by which the fence is set",
        "1 mm",
        inches="1/32 in",
        why="a tape hooked over the table's edge is read so finely; our choice",
    )
    fence_angle: ExactAngle | None = key(
        "one standard deviation of how the fence angle is set",
        None,
        unless_given="what `accuracy.tape` turns the fence, by the distance between its marks",
    )
    offset: Exact | None = key(
        "one standard deviation of how the offset is set",
        None,
        unless_given="how far `accuracy.tape` moves the fence abreast of the blade",
    )
    blade_height: Exact = key(
        "one standard deviation of how the height is set",
        "0.2 mm",
        inches="1/128 in",
        why="half of 1/64 in, the finest division of a rule; our choice",
    )
    blade_tilt: ExactAngle = key(
        "one standard deviation of how the tilt is set",
        "0.1 deg",
        why="a gap of 0.2 mm under 100 mm of a square is seen; our choice",
    )
    kerf: Exact = key(
        "one standard deviation of the kerf that is really cut",
        "0.05 mm",
        inches="2 thou",
        why="as far as a usual wobble widens it; our choice",
    )
    measured: Exact = key(
        "one standard deviation of a width, a depth or a flat that is measured of the cove between passes",
        CALLIPERS,
        inches=CALLIPERS_IN_INCHES,
        why=CALLIPERS_WHY,
    )
    seed: Annotated[int, Field(strict=True, ge=0, le=2**32 - 1)] = key(
        "the number from which the chance set-ups are drawn", 1
    )
