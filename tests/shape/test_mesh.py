"""The mesh's own sums, on a box that can be done in the head."""

from __future__ import annotations

import numpy as np
import pytest

from sweep.shape import solid
from sweep.shape.mesh import Mesh


def box() -> Mesh:
    """A box of 4 by 3 by 2 mm."""
    return solid.to_mesh(solid.box(4.0, 3.0, 2.0), {})


def test_a_box_encloses_the_product_of_its_sides():
    """4 x 3 x 2 = 24."""
    assert pytest.approx(box().volume, rel=1e-12) == 24.0


def test_a_box_turned_inside_out_encloses_less_than_nothing():
    """Orientation counts."""
    whole = box()
    inside_out = Mesh(whole.vertices, whole.triangles[:, ::-1], whole.cut_by)

    assert inside_out.volume < 0


def test_a_box_without_one_face_is_not_closed():
    """One triangle less leaves three open edges."""
    whole = box()

    assert whole.is_closed()
    assert not Mesh(whole.vertices, whole.triangles[1:], whole.cut_by[1:]).is_closed()


def test_a_box_whose_face_is_flipped_is_not_oriented():
    """Two neighbours that run their edge the same way."""
    whole = box()
    triangles = whole.triangles.copy()
    triangles[0] = triangles[0][::-1]

    assert not Mesh(whole.vertices, triangles, whole.cut_by).is_closed()


def test_a_section_of_a_box_runs_once_round_it():
    """2 x (3 + 2) = 10, wherever it is cut."""
    segments, cut_by = box().section(1.3)

    assert pytest.approx(np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1).sum()) == 10.0
    assert set(cut_by) == {0}


def test_the_arrays_of_a_mesh_cannot_be_written():
    """Frozen means frozen."""
    with pytest.raises(ValueError, match="read-only"):
        box().vertices[0] = 0.0
