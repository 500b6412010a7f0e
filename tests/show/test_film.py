"""The moving picture of several set-ups, and of what follows the saw: what it shows, in order, and that it is true."""

from __future__ import annotations

import itertools
import pickle

import numpy as np
import pytest
from demos import DEMOS, SEVERAL
from drawn import is_drawn, is_free
from PIL import Image
from reports import COARSE, report_of, setups_report_of

from sweep.cut.finish import as_cut
from sweep.cut.finish_moments import operations_of
from sweep.cut.stages import mesh_of_all, travel_range
from sweep.shape import section
from sweep.shape.lying import face_down
from sweep.shape.mesh import UNCUT
from sweep.show.draw.setups import takings
from sweep.show.pictures import movie
from sweep.show.pictures.film import FinishShot, PassShot, TurnShot, film_of, shots_of
from sweep.show.pictures.movie import SIZE, fitting
from sweep.show.solids.stock import corners_of
from sweep.show.solids.turns import room_to_turn, turned

FINISHED = ["cornice-to-fit", "picture-rail", "ripped-pair", "off-the-edge"]


@pytest.mark.parametrize("name", SEVERAL)
def test_the_film_goes_through_all_set_ups_turns_the_stock_and_ends_with_the_moulding(name):
    """Each last pass ends with the stock past the blade; a turn stands before those set-ups that ask for one."""
    report = setups_report_of(name)
    settings = report.moulding.settings
    shots = shots_of(film_of(report))
    passes = [shot for shot in shots if isinstance(shot, PassShot)]
    turns = {shot.take for shot in shots if isinstance(shot, TurnShot)}

    asked = [(one.lying.turn, one.lying.end_for_end) for one in settings]
    assert turns == {k for k in range(1, len(settings)) if asked[k] != asked[k - 1]}
    assert [take for take, _ in itertools.groupby(shot.take for shot in passes)] == list(range(len(settings)))
    for take, setting in enumerate(settings):
        last = [shot.moment for shot in passes if shot.take == take][-1]
        assert last.number == len(setting.whole.passes.heights)
        assert last.travel > travel_range(setting.whole, last.number)[1]
        frames = [k for k, shot in enumerate(shots) if isinstance(shot, TurnShot) and shot.take == take]
        if frames:
            assert shots[frames[0]].share == 0 and shots[frames[-1]].share == 1
            assert isinstance(shots[frames[-1] + 1], PassShot) and shots[frames[-1] + 1].take == take
    assert shots[-1] == FinishShot(0, 1.0)
    assert len(shots) <= 130


@pytest.mark.parametrize("name", DEMOS)
def test_finishing_operations_follow_the_last_pass(name):
    """Each from its beginning to its end, in order; a scene without any ends with its last pass."""
    report = report_of(name)
    shots = shots_of(film_of(report))
    done = [shot for shot in shots if not isinstance(shot, PassShot)]

    count = len(report.job.finishing)
    assert [number for number, _ in itertools.groupby(shot.operation for shot in done)] == list(range(count))
    assert list(shots[len(shots) - len(done) :]) == done
    for _, frames in itertools.groupby(done, lambda shot: shot.operation):
        shares = [shot.share for shot in frames]
        assert shares == sorted(set(shares)) and (shares[0], shares[-1]) == (0, 1)


@pytest.mark.parametrize("name", FINISHED)
def test_an_operation_takes_in_proportion_to_how_far_it_has_gone(name):
    """Closed solids; the volume falls evenly, but for an offcut that goes with it, to that of the finished pieces."""
    job = report_of(name).job
    length = job.scene.stock.length
    for operation in operations_of(job.scene, as_cut(job.scene, job.finished)):
        volumes = []
        for share in (0.0, 0.25, 0.75, 1.0):
            meshes = operation.at(share)
            assert all(mesh.is_closed() for mesh in meshes)
            volumes.append(sum(mesh.volume for mesh in meshes))
        whole, quarter, three, done = volumes
        assert done <= three <= quarter <= whole
        assert (quarter - three) / 2 == pytest.approx((whole - done) / 4, rel=2e-3, abs=2e-3 * length)
    assert done == pytest.approx(sum(piece.volume for piece in job.pieces), rel=1e-12)


@pytest.mark.parametrize("name", SEVERAL)
def test_every_face_of_a_later_set_up_knows_the_pass_that_cut_it(name):
    """As it lies for each set-up: uncut faces lie on the planed stock, the others on what their set-up took."""
    moulding = setups_report_of(name).moulding
    stock, taken = moulding.scene.stock, takings(moulding)
    for setting, job in zip(moulding.settings, moulding.jobs, strict=True):
        mesh = mesh_of_all(setting.whole, job.finished)
        back = setting.lying.back.motion
        middles = mesh.vertices[mesh.triangles].mean(axis=1) @ back[:3, :3].T + back[:3, 3]
        half = stock.width / 2
        faces = np.array([[0.0, -half, 0.0], [stock.length, half, stock.thickness]])
        planed = (np.abs(middles[:, None, :] - faces).min(axis=1) < 1e-6).any(axis=1)
        assert (planed == (mesh.cut_by == UNCUT)).all()
        for number in set(mesh.cut_by.tolist()) - {UNCUT}:
            on = section.holds(
                section.grown(taken[moulding.setup_of(number)].cut, 0.1), middles[mesh.cut_by == number][:, 1:]
            )
            assert on.all()


LYINGS = [
    face_down(face, ends, 900.0) for face in ("table", "top", "left edge", "right edge") for ends in (False, True)
]


@pytest.mark.parametrize("lying", LYINGS, ids=lambda lying: f"{lying.turn} {lying.end_for_end}")
def test_stock_is_turned_by_rotations_about_its_middle_from_how_it_lay_to_how_it_lies(lying):
    """At the end it lies as it will; at the beginning a move away from how it lay; nothing leaves the room for it."""
    stock = report_of("corner-cupboard-cornice").scene.stock
    middle = np.array([stock.length / 2, 0.0, stock.thickness / 2, 1.0])
    room = room_to_turn(lying, stock)
    hull = np.array([room.min(axis=0), room.max(axis=0)])
    for share in np.linspace(0, 1, 11):
        motion = turned(lying, stock, float(share))
        assert np.linalg.det(motion[:3, :3]) == pytest.approx(1.0)
        assert motion[:3, :3] @ motion[:3, :3].T == pytest.approx(np.eye(3))
        assert motion @ middle == pytest.approx(middle)
        corners = corners_of(stock) @ motion[:3, :3].T + motion[:3, 3]
        assert (corners > hull[0] - 1e-6).all() and (corners < hull[1] + 1e-6).all()
    assert turned(lying, stock, 1.0) == pytest.approx(np.eye(4))
    assert turned(lying, stock, 0.0)[:3, :3] @ lying.motion[:3, :3] == pytest.approx(np.eye(3))


def test_the_film_can_go_to_another_process_and_is_drawn_there_as_it_is(drawn, tmp_path, monkeypatch):
    """As many frames as shots, in the colours of the set-ups, nothing cut off, and words in the row above.

    Of the film every ninth shot, and the last.
    """
    film = pickle.loads(pickle.dumps(film_of(setups_report_of("coved-panel-edge"))))
    shots = shots_of(film)[::-9][::-1]
    monkeypatch.setattr(movie, "shots_of", lambda _: shots)
    movie.write_movie(tmp_path / "removal.gif", film)
    colours = np.round(255 * film.colours)[[1, 6, 11, 12]]
    with Image.open(tmp_path / "removal.gif") as picture:
        assert picture.n_frames == len(shots)
        for k in range(picture.n_frames):
            picture.seek(k)
            frame = np.asarray(picture.convert("RGB"))
            assert frame.shape == (SIZE[1], SIZE[0], 3)
            assert is_drawn(frame[10:40, 20:300]).any()
            assert is_free(frame, 6)
        # the last frame: the row of passes has the colours of the four set-ups, in order
        row = frame_row(picture, len(shots) - 1)
        nearest = [int(np.abs(colours - pixel).sum(axis=1).argmin()) for pixel in row]
        assert [place for place, _ in itertools.groupby(nearest)] == [0, 1, 2, 3]


def frame_row(picture: Image.Image, number: int) -> np.ndarray:
    """Pixels along the row of passes of a frame, those of the gaps between them left out."""
    picture.seek(number)
    row = np.asarray(picture.convert("RGB")).astype(int)[SIZE[1] - 54 + 18 + 12, 24:444]
    return row[(row < 225).any(axis=1)]


@pytest.mark.parametrize("room", [5, 17, 20, 200])
def test_a_long_name_is_cut_off_and_the_pass_is_still_read(room):
    """As much of the name as there is room for, in letters of one width, and all of what stands behind it."""
    shown = fitting("4. a step along the edge", ": pass 1 of 2", room, len)
    assert shown.endswith(": pass 1 of 2")
    assert len(shown) <= max(room, len(": pass 1 of 2"))
    assert (shown == "4. a step along the edge: pass 1 of 2") == (room == 200)
    assert room != 20 or shown == "4. a...: pass 1 of 2"


def test_the_coarse_reports_are_those_that_are_drawn():
    """The film is cut at a chord of its own; its solids have the sections that the report has."""
    report = report_of("picture-rail")
    scene, begun = film_of(report).unfinished(COARSE.chord)
    assert scene.finish == report.scene.finish
    assert begun.meshes[0].volume == pytest.approx(report.job.finished.mesh.volume, rel=1e-12)
