"""A moulding drawn in space by the program itself, end on, and traced: within 0.15 mm of the exact section."""

from __future__ import annotations

import math

import numpy as np
from end_on import away_from, coded, end_on, exact_section
from reports import report_of
from scipy.ndimage import gaussian_filter

from sweep.trace.face import trace
from sweep.trace.outline import outline_of
from sweep.trace.reader import Seen
from sweep.trace.scale import read_scale


def test_a_moulding_drawn_in_space_is_traced_to_within_0_15_mm():
    """The cornice, out of focus and with noise, against its own curve as the section has it."""
    report = report_of("corner-cupboard-cornice")
    picture = end_on(report.job.finished.mesh, report.scene.stock)
    picture = coded(gaussian_filter(picture, (0.6, 0.6, 0))) + 0.02 * np.random.default_rng(1).standard_normal(
        picture.shape
    )
    found = outline_of(np.clip(picture, 0, 1).astype(np.float32))
    seen = Seen(found.outline, picture.shape[1::-1], found.roughness, found.soft, 0.0, 1, b"")
    traced = trace(seen, read_scale("100 mm = 800 px", None), None, "points")
    away = away_from(exact_section(report.scene), report.scene.stock, traced.pixels)

    assert away.max() < 0.15
    assert math.sqrt((away**2).mean()) < traced.accuracy
