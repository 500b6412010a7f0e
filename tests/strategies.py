"""Random legal scenes for the laws: any tool, any angle, tilt, offset, heights and stops that a user may write."""

from __future__ import annotations

from functools import cache
from typing import Any

from hypothesis import assume, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from sweep.cut.passes import pass_sections
from sweep.errors import SceneError
from sweep.scene.finish import Finish
from sweep.scene.keys import Stock
from sweep.scene.model import Scene
from sweep.scene.read import scene_from


def fewer(share: float) -> settings:
    """Draw a share of what the profile draws, where an example is dear; so a deeper profile deepens every test."""
    return settings(max_examples=round(share * settings().max_examples))


@cache  # most ranges are asked for anew in every draw
def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Floats of a range in steps that a tape measure could show, awkward ones among them."""
    return st.floats(low, high, allow_nan=False).map(lambda x: round(x, 4))


@st.composite
def blades(draw: st.DrawFn) -> dict[str, Any]:
    """A flat, an alternately bevelled or a shaped cutter, as a scene would write it."""
    teeth = draw(st.integers(1, 100))
    kind = draw(st.sampled_from(["flat", "alternate bevel", "profile"]))
    if kind == "profile":
        count = draw(st.integers(2, 5))
        steps = draw(st.lists(between(0.5, 5), min_size=count, max_size=count))
        offsets = [sum(steps[: k + 1]) - sum(steps) / 2 for k in range(count)]
        radii = draw(st.lists(between(45, 90), min_size=count, max_size=count))
        return {"teeth": teeth, "profile": [[a, r] for a, r in zip(offsets, radii, strict=True)]}
    blade = {
        "teeth": teeth,
        "diameter": f"{draw(between(120, 400))} mm",
        "kerf": f"{draw(between(1.2, 8))} mm",
        "tip": kind,
    }
    if kind == "alternate bevel":
        blade["bevel"] = f"{draw(between(1, 30))} deg"
    return blade


@st.composite
def scenes(draw: st.DrawFn, stops: bool = True, passes: int = 5) -> Scene:
    """A scene whose every value a user may write, and whose cut stays under the top of the stock."""
    rises = draw(st.lists(between(0.0, 4.0), min_size=1, max_size=passes))
    rises[0] += 0.3
    heights = [sum(rises[: k + 1]) for k in range(len(rises))]
    length = draw(between(40, 900))
    table: dict[str, Any] = {
        "stock": {
            "length": f"{length} mm",
            "width": f"{draw(between(15, 160))} mm",
            "thickness": f"{heights[-1] + draw(between(0.2, 30))} mm",
            "species": draw(st.sampled_from(["oak", "pine", "walnut"])),
        },
        "blade": draw(blades()),
        "saw": {"speed": f"{draw(between(2000, 6000))} rpm"},
        "setup": {
            "fence_angle": f"{draw(between(0.5, 90))} deg",
            "blade_tilt": f"{draw(st.just(0.0) | between(-45, 45))} deg",
            "blade_height": f"{heights[-1]} mm",
            "offset": f"{draw(st.just(0.0) | between(-40, 40))} mm",
        },
        "passes": {"heights": [f"{h} mm" for h in heights], "feed_speed": f"{draw(between(0.5, 12))} m/min"},
    }
    if stops and draw(st.booleans()):
        places = st.just("through") | between(1, length).map(lambda x: f"{x} mm")
        same = draw(st.booleans())
        table["passes"]["stop"] = draw(places) if same else [draw(places) for _ in heights]
    try:
        scene = scene_from(table)
        pass_sections(scene, chord=0.1)
    except SceneError:
        assume(False)
    return scene


@st.composite
def operations(draw: st.DrawFn, stock: Stock) -> dict[str, Any]:
    """A finishing operation as a scene would write it, of a size that the stock may well have room for."""
    small = between(0.05, max(0.1, min(stock.thickness, stock.width) / 3))
    edges = ["table left", "table right", "top left", "top right", "cove left", "cove right"]
    across = between(-0.45 * stock.width, 0.45 * stock.width)
    kind = draw(st.sampled_from(["rip", "round over", "chamfer", "bevel", "rabbet", "cove"]))
    given = {
        "rip": {
            "at": across,
            "tilt": st.just(0.0) | between(-45, 45),
            "keep": st.sampled_from(["both", "left", "right"]),
        },
        "round over": {"edge": st.sampled_from(edges), "radius": small},
        "chamfer": {"edge": st.sampled_from(edges), "size": small},
        "bevel": {"spring": between(20, 70), "wall_flat": small, "wall": st.sampled_from(["left", "right"])},
        "rabbet": {"edge": st.sampled_from(edges[:4]), "width": small, "depth": small},
        "cove": {
            "fence_angle": between(3, 60),
            "blade_height": between(0.3, 3),
            "blade_tilt": st.just(0.0) | between(-30, 30),
            "offset": across,
            "turn": st.sampled_from(["about its length", "end for end"]),
        },
    }
    angles = ("tilt", "blade_tilt", "spring", "fence_angle")
    values = {key: draw(value) for key, value in given[kind].items()}
    return {"do": kind} | {
        key: value if isinstance(value, str) else f"{value} {'deg' if key in angles else 'mm'}"
        for key, value in values.items()
    }


@st.composite
def finished_scenes(draw: st.DrawFn, stops: bool = False) -> Scene:
    """A random scene with one to four finishing operations, which may turn out not to be possible on it."""
    scene = draw(scenes(stops=stops))
    listed = draw(st.lists(operations(scene.stock), min_size=1, max_size=4))
    return scene.model_copy(update={"finish": TypeAdapter(tuple[Finish, ...]).validate_python(tuple(listed))})


@st.composite
def set_ups(draw: st.DrawFn, width: float, thickness: float) -> dict[str, Any]:
    """A set-up of several as a scene would write it, of a size that the stock may well have room for."""
    across, low = between(-0.45 * width, 0.45 * width), between(0.5, max(1.0, 0.4 * thickness))
    kind = draw(st.sampled_from(["cove", "cove", "rip", "rabbet"]))
    tilt = f"{draw(st.just(0.0) | between(-45, 45))} deg"
    top = draw(low)
    heights = sorted({round(top * draw(between(0.2, 0.9)), 4), top})
    passes = {"heights": [f"{h} mm" for h in heights], "feed_speed": "2 m/min"}
    if draw(st.integers(0, 5)) == 5:
        passes["stop"] = f"{draw(between(20, 200))} mm"
    kept = {
        "face": draw(st.sampled_from(["table", "table", "top", "left edge", "right edge"])),
        "ends": draw(st.sampled_from(["as it lay", "end for end"])),
    }
    if kind == "cove":
        given = {
            "fence_angle": f"{draw(between(3, 90))} deg",
            "offset": f"{draw(across)} mm",
            "blade_height": f"{top} mm",
            "blade_tilt": tilt,
            "passes": passes,
        }
    elif kind == "rip":
        given = {"at": f"{draw(across)} mm", "blade_tilt": tilt, "fence_side": draw(st.sampled_from(["left", "right"]))}
        if draw(st.booleans()):
            given |= {"blade_height": f"{top} mm", "passes": passes}
    else:
        given = {"edge": draw(st.sampled_from(["left", "right"]))}
        given |= {"width": f"{draw(low)} mm", "depth": f"{draw(low)} mm"}
    return {"do": kind} | kept | given


@st.composite
def several_scenes(draw: st.DrawFn, most: int = 4) -> Scene:
    """A scene of one to four set-ups over one blank, which may turn out not to be possible on it."""
    width, thickness = draw(between(40, 120)), draw(between(15, 60))
    table = {
        "stock": {
            "length": f"{draw(between(200, 900))} mm",
            "width": f"{width} mm",
            "thickness": f"{thickness} mm",
            "species": "oak",
        },
        "blade": draw(blades().filter(lambda blade: "profile" in blade or float(blade["diameter"].split()[0]) > 200)),
        "saw": {"speed": "4000 rpm"},
        "setups": draw(st.lists(set_ups(width, thickness), min_size=1, max_size=most)),
    }
    try:
        return scene_from(table)
    except SceneError:
        assume(False)
        raise
