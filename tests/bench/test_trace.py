"""End grain drawn here and by the program, as PNG and as JPEG: how far traced points lie off, and what is said."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np
import shapely
from end_grain import end_grain
from end_on import away_from, coded, end_on, exact_section
from numpy.typing import NDArray
from PIL import Image
from reports import report_of
from scipy.ndimage import gaussian_filter

from sweep.shape.outline import curves, settings
from sweep.shape.tool import flat_tips
from sweep.trace import child
from sweep.trace.face import Traced, trace
from sweep.trace.reader import Seen
from sweep.trace.scale import read_scale

Array = NDArray[np.float64]

LIGHTS: dict[str, dict[str, Any]] = {
    "even light": {},
    "a slant of light, and shade": {"shade": 0.5, "gradient": 0.3},
    "shade as dark as the wood": {"bench": (0.9, 0.9, 0.9), "shade": 0.5},
    "shade darker than the wood": {"bench": (0.9, 0.9, 0.9), "shade": 0.7},
    "black paper": {"bench": (0.03, 0.03, 0.03)},
}
KINDS = [("PNG", 0), *((f"JPEG {quality}", quality) for quality in (95, 90, 80, 60))]
EACH = 4


def pictures() -> Iterator[tuple[str, NDArray[np.uint8], Callable[[Traced], Array]]]:
    """Pictures at 8 pixels a mm, in which light, and how far traced points lie off what was drawn, mm."""
    cove = curves(flat_tips(127.0, 3.2), settings(math.radians(28), 0.0, 16.0), 24)[0]
    section = np.vstack([[-46, 0], cove, [46, 0], [46, 22.5], [-46, 22.5]])
    chance = np.random.default_rng(15)
    for light, how in LIGHTS.items():
        for seed in range(EACH):
            turn, margin = chance.uniform(-0.1, 0.1), chance.uniform(11.5, 12.5)
            drawn, outline = end_grain(section, noise=0.02, turn=turn, margin=margin, seed=seed, **how)
            ring = shapely.LinearRing(outline)
            yield light, drawn, lambda traced, ring=ring: shapely.distance(ring, shapely.points(traced.pixels)) / 8
    report = report_of("corner-cupboard-cornice")
    stock, exact = report.scene.stock, exact_section(report.scene)
    seen = coded(gaussian_filter(end_on(report.job.finished.mesh, stock), (0.6, 0.6, 0)))
    for _ in range(EACH):
        noisy = np.clip(seen + 0.02 * chance.standard_normal(seen.shape), 0, 1)
        picture = (noisy * 255).round().astype(np.uint8)
        yield "drawn by the program", picture, lambda traced: away_from(exact, stock, traced.pixels)


def traced_as(picture: NDArray[np.uint8], quality: int) -> Traced:
    """A picture written as PNG, or as a JPEG that keeps colour half as finely, and traced."""
    written = io.BytesIO()
    how = {"format": "JPEG", "quality": quality, "subsampling": 2} if quality else {"format": "PNG"}
    Image.fromarray(picture).save(written, **how)
    told = child.answer(written.getvalue(), 10_000_000)
    names = ("size", "roughness", "soft", "compressed", "pixel")
    seen = Seen(np.array(told["outline"]), **{name: told[name] for name in names}, picture=b"")
    return trace(seen, read_scale("100 mm = 800 px", None), None, "points")


def test_the_accuracy_that_is_said_covers_how_far_points_lie_off(
    write_row: Callable[[str, Sequence[str], Sequence[str]], None],
) -> None:
    """In every light and kind of file: root mean square, and all but a few points; and 0.15 mm in PNG and JPEG 95."""
    found: dict[tuple[str, str], list[tuple[Array, float]]] = {}
    for light, picture, off in pictures():
        for kind, quality in KINDS:
            traced = traced_as(picture, quality)
            found.setdefault((light, kind), []).append((off(traced), traced.accuracy))
    headings = ("light", "kept as", "furthest", "RMS", "said", "within 1.96 of it")
    told: dict[tuple[str, str], tuple[float, float, float, float]] = {}
    for (light, kind), every in found.items():
        away = np.concatenate([one for one, _ in every])
        said = math.sqrt(float(np.mean([accuracy**2 for _, accuracy in every])))
        share = float(np.mean(np.concatenate([one < 1.96 * accuracy for one, accuracy in every])))
        rms = math.sqrt(float((away**2).mean()))
        row = (light, kind, f"{away.max():.3f} mm", f"{rms:.3f} mm", f"{said:.3f} mm", f"{share:.1%}")
        write_row("traced points", headings, row)
        told[light, kind] = float(away.max()), rms, said, share
    for (light, kind), (furthest, rms, said, share) in told.items():
        assert rms < said and share > 0.94, (light, kind)
        assert furthest < 0.15 or kind not in ("PNG", "JPEG 95"), (light, kind)
    assert np.mean([share for *_, share in told.values()]) > 0.97
