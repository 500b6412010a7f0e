"""Random scenes on saws whose tables are given, and the table and what lies on it as plane figures."""

from __future__ import annotations

import math

import shapely
from hypothesis import strategies as st
from strategies import between, scenes

from sweep.cut.forces import USUAL, forces_along
from sweep.scene.model import Scene


def changed(scene: Scene, part: str, **values) -> Scene:
    """The scene with some values of one section changed."""
    return scene.model_copy(update={part: getattr(scene, part).model_copy(update=values)})


@st.composite
def saws(draw: st.DrawFn) -> Scene:
    """A random scene on a saw whose table, slots and fence are given."""
    depth, width = draw(between(300, 900)), draw(between(300, 1600))
    scene = changed(draw(scenes()), "setup", fence_side=draw(st.sampled_from(["near", "far"])))
    return changed(
        changed(scene, "fence", thickness=draw(between(10, 80))),
        "saw",
        table_depth=depth,
        table_width=width,
        front_to_blade=depth * draw(st.floats(0.2, 0.8)),
        left_to_blade=width * draw(st.floats(0.2, 0.8)),
        slots=(-draw(between(60, 140)), draw(between(60, 140))),
    )


def table_of(scene: Scene) -> shapely.Polygon:
    """The table as a figure, the blade's centre at the origin."""
    saw = scene.saw
    left, front = -saw.left_to_blade, -saw.front_to_blade
    return shapely.box(left, front, left + saw.table_width, front + saw.table_depth)


def turned(figure: shapely.Geometry, scene: Scene) -> shapely.Geometry:
    """A figure drawn for a feed straight away from the operator, turned clockwise to the fence's angle."""
    return shapely.affinity.rotate(figure, -math.degrees(scene.setup.fence_angle), origin=(0, 0))


def steady_of(scene, edges, feed_per_tooth, state=USUAL):
    """The mean forces while edges are in wood as given; None when nothing is known of the wood."""
    found = forces_along(scene, edges, feed_per_tooth, 1, state)
    return None if found is None else found[0]
