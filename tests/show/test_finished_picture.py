"""`passes.png` of a moulding that was finished: one more panel, its pieces, and the section with what was taken."""

from __future__ import annotations

import numpy as np
import pytest
from demos import SCENES
from drawn import stills_of
from reports import COARSE

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.scene.read import read_scene
from sweep.show.draw.colours import FINISHED
from sweep.show.say.report import Report
from sweep.units import Units

SCENE = SCENES / "cornice-to-fit.toml"


@pytest.fixture(scope="module")
def pictures(drawn):
    """The same job with its finishing operations and without."""
    scene = read_scene(SCENE)
    jobs = scene, scene.model_copy(update={"finish": ()})
    return [stills_of(Report(judge(simulate(one, COARSE)), Units())).astype(int) for one in jobs]


def looks_finished(picture):
    """How many pixels have the hue of finishing, in whatever light; counted in every third row and column."""
    hue = np.array(FINISHED) / np.linalg.norm(FINISHED)
    seen = picture[::3, ::3].reshape(-1, 3)
    size = np.sqrt((seen * seen).sum(axis=1))
    return 9 * int(((seen @ hue > 0.9995 * size) & (size > 60) & (size < 400)).sum())


def test_what_finishing_cut_is_drawn_in_its_colour_and_nothing_else_is(pictures):
    """In the last panel, the legend and the section; none of it where there is no finishing."""
    finished, plain = pictures

    assert looks_finished(finished) > 3000
    assert looks_finished(plain) < looks_finished(finished) / 20


def test_there_is_one_more_panel_for_the_finished_moulding(pictures):
    """Eight passes fill two rows of four; nine panels make three rows of three."""
    finished, plain = pictures

    assert finished.shape[0] > plain.shape[0] + 400
    assert finished.shape[1] == plain.shape[1]
