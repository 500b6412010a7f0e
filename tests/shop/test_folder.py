"""A folder of profiles: everything in it becomes a profile laid on the stock, or a row with its reason."""

from __future__ import annotations

import math
import shutil

import ezdxf
import numpy as np
import pytest
import shapely
from demos import SCENES
from fuzz.drawings import HOSTILE
from reports import setups_report_of

from sweep.errors import SceneError
from sweep.shop.folder import Reading, names_in, profiles_in
from sweep.shop.profile import Profile, Unread
from sweep.shop.rack import jobs_of, rack_of

RADIUS = 36.125
"""mm. Of the arc 60 mm wide and 16 mm deep: (w^2 / 4 + d^2) / (2 d)."""


def arc(count: int = 61) -> np.ndarray:
    """Points on that arc from its left edge to its right one, its chord on z = 0."""
    half = math.atan2(30, RADIUS - 16)
    turn = np.linspace(-half, half, count)
    return np.column_stack([RADIUS * np.sin(turn), RADIUS * np.cos(turn) - (RADIUS - 16)])


def written(points: np.ndarray, heading: str = "y_mm,z_mm") -> str:
    """Return a file of points."""
    return "\n".join([heading, *(f"{y:.5f},{z:.5f}" for y, z in points)]) + "\n"


def read(folder) -> dict[str, Profile | Unread]:
    """Return everything in a folder by its name."""
    return {one.name: one for one in profiles_in(folder)}


def test_one_arc_comes_out_the_same_however_it_is_written(tmp_path):
    """Points in mm and in inches, the hollow upwards or downwards, either way round, with flat beside it, a drawing."""
    there = arc() + (12.0, 3.0)
    (tmp_path / "mm.csv").write_text(written(there))
    (tmp_path / "inches.csv").write_text(written(there / 25.4, "y in,z in"))
    (tmp_path / "upwards.csv").write_text(written(-there[::-1]))
    (tmp_path / "backwards.csv").write_text(written(there[::-1]))
    face = [(-40.0, 3.0), *there.tolist(), (60.0, 3.0)]
    (tmp_path / "with-face.csv").write_text(written(np.array(face)))
    (tmp_path / "within").mkdir()
    document = ezdxf.new(units=4)
    document.modelspace().add_lwpolyline(there.tolist())
    document.saveas(tmp_path / "within" / "drawn.dxf")

    found = read(tmp_path)

    assert list(found) == sorted(found) and len(found) == 6
    for name, one in found.items():
        assert isinstance(one, Profile), one
        assert not one.whole
        assert one.line == pytest.approx(arc(), abs=2e-4), name
        assert one.inches == (name == "inches.csv")


def test_a_line_that_ends_above_the_face_or_closes_or_bends_both_ways_is_a_whole_moulding(tmp_path):
    """None of these is the hollow of one cove."""
    (tmp_path / "step.csv").write_text(written(np.array([(0, 0), (20, 0), (20, 8), (50, 8)])))
    ogee = np.array([(0, 0), (5, 0), (5, 3), (15, 3), (25, 12), (40, 14), (50, 14), (50, 0), (60, 0)])
    (tmp_path / "ogee.csv").write_text(written(ogee))
    (tmp_path / "closed.csv").write_text(written(np.array([(0, 0), (50, 0), (50, 20), (0, 12), (0, 0)])))

    found = read(tmp_path)

    assert all(one.whole for one in found.values())
    assert found["ogee.csv"].line.tolist() == (ogee - (30, 0)).tolist()
    assert found["closed.csv"].line[:, 0].min() == -25 and found["closed.csv"].line[0].tolist() == [-25, 0]


def test_the_demo_scenes_are_profiles_and_their_points_are_not_read_twice():
    """A file of points that a scene names is that scene's; of one set-up the curve that it cuts is known too."""
    found = read(SCENES)

    assert "tilted-cove.csv" not in found and "ogee-crown.csv" not in found
    assert found["ogee-crown.toml"].whole and found["frieze-by-marks.toml"].inches
    cornice = found["corner-cupboard-cornice.toml"]
    assert cornice.made is not None and cornice.made[:, 1].max() == pytest.approx(16.0, abs=1e-6)
    assert found["base-of-two-coves.toml"].whole and found["base-of-two-coves.toml"].made is None


def test_the_drawer_of_the_demo_is_read_in_mm_and_inches():
    """Points, drawings and scenes; a rack of five blades, one in inches."""
    found = read(SCENES / "drawer")

    assert all(isinstance(one, Profile) for one in found.values())
    assert {name for name, one in found.items() if one.inches} == {"door-rail.csv", "plinth.toml"}
    assert {name for name, one in found.items() if one.whole} == {"base.csv"}
    rack = rack_of(Reading(SCENES / "drawer").shop)
    assert [tool.radius for tool in rack.tools] == [127, 127, 108, 95, 80]


def test_a_kept_job_is_worked_out_anew_without_what_was_measured_on_its_wood(tmp_path):
    """Neither its set-up, nor when it was made, nor the wood of that set-up is in the job; all else of it is."""
    scene = (SCENES / "corner-cupboard-cornice.toml").read_text(encoding="utf-8")
    made = '[kept]\ndate = "2026-11-26"\n[[measured]]\nwidth = "60 mm"\n'
    (tmp_path / "kept.toml").write_text(f"{scene}\n{made}", encoding="utf-8")
    kept = read(tmp_path)["kept.toml"]

    job = jobs_of(kept, rack_of({}))[0]

    assert kept.tables.keys() - job.keys() == {"kept", "measured"} | ({"setup", "passes"} & kept.tables.keys())


def test_what_is_broken_is_a_row_and_the_rest_is_read(tmp_path):
    """Whatever stands in the folder."""
    (tmp_path / "a.csv").write_text("nonsense\n")
    (tmp_path / "b.svg").write_bytes(HOSTILE["laughs.svg"])
    (tmp_path / "c.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L30 20L60 0"/></svg>')
    (tmp_path / "d.toml").write_text("[stock\n")
    (tmp_path / "e.toml").write_bytes(b"\xff\xfe\x00")
    (tmp_path / "f.csv").write_text(written(np.array([(0, 0), (5, 0), (9, 0)])))
    (tmp_path / "g.csv").symlink_to(tmp_path / "nowhere")
    (tmp_path / "h.toml").write_text("[target]\nshape = 'points'\nfile = '../\0'\n")
    (tmp_path / "i.csv").write_text(written(arc()))
    (tmp_path / "j.csv").write_text(written(np.array([(0, 0), (0, 0.005), (9, 0)])))
    (tmp_path / "k.csv").write_text(written(np.array([(0, 0), (4, 0), (9, 0.02)])))
    (tmp_path / "l.csv").write_text(written(np.array([(0, 0), (1, 1e308), (2, 0)])))
    (tmp_path / "notes.txt").write_text("not one")
    (tmp_path / ".hidden.csv").write_text(written(arc()))

    found = read(tmp_path)

    assert {name for name, one in found.items() if isinstance(one, Profile)} == {"c.svg", "i.csv"}
    assert set(found) == {
        f"{letter}.{kind}"
        for letter, kind in zip(
            "abcdefghijkl",
            ("csv", "svg", "svg", "toml", "toml", "csv", "csv", "toml", "csv", "csv", "csv", "csv"),
            strict=True,
        )
    }
    reasons = {name: one.reason for name, one in found.items() if isinstance(one, Unread)}
    assert all(reason and "\n" not in reason and str(tmp_path) not in reason for reason in reasons.values())
    assert reasons["d.toml"].startswith("line 1: a bracket has no other one")


def test_results_of_runs_are_no_profiles_and_a_shop_serves_the_folders_within(tmp_path):
    """A run's folder is known by its mark; a scene's own folder may have a shop of its own."""
    (tmp_path / "shop.toml").write_text('[blade]\nteeth = 40\ndiameter = "10 in"\nkerf = "1/8 in"\n')
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / ".written-by-sweep").write_text("")
    shutil.copy(SCENES / "corner-cupboard-cornice.toml", tmp_path / "out")
    (tmp_path / "within").mkdir()
    (tmp_path / "within" / "a.toml").write_text(
        '[stock]\nlength = "900 mm"\nwidth = "80 mm"\nthickness = "22 mm"\n[saw]\nspeed = "4000 rpm"\n'
        '[target]\nshape = "cove"\nwidth = "50 mm"\ndepth = "11 mm"\n'
    )

    assert names_in(tmp_path) == ("within/a.toml",)
    assert isinstance(read(tmp_path)["within/a.toml"], Profile)


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    """In one sentence that names it."""
    with pytest.raises(SceneError, match="no such folder"):
        list(profiles_in(tmp_path / "none"))


def test_a_job_of_several_set_ups_is_the_outline_that_they_leave(tmp_path):
    """Its area along the whole length is the volume that the solid kernel leaves, though no target is written."""
    shutil.copy(SCENES / "base-of-two-coves.toml", tmp_path)
    (one,) = profiles_in(tmp_path)
    moulding = setups_report_of("base-of-two-coves").moulding
    (piece,) = moulding.pieces

    assert isinstance(one, Profile) and one.whole
    assert one.line[0].tolist() == one.line[-1].tolist()
    assert shapely.Polygon(one.line).area == pytest.approx(piece.mesh.volume / moulding.scene.stock.length, rel=1e-3)
