"""Pictures: the right size, nothing cut off, nothing flickers, and what is drawn is what was cut."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from demos import CORNICE
from drawn import inked, is_drawn, is_free, stills_of
from no_opengl import end_the_process
from PIL import Image
from reports import COARSE, report_of
from scipy import ndimage

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.stages import stage, travel_range
from sweep.errors import PictureError
from sweep.scene.read import read_scene
from sweep.show.draw.colours import cut_colours
from sweep.show.pictures import every_picture
from sweep.show.pictures.film import film_of, shots_of
from sweep.show.pictures.gif import write_gif
from sweep.show.pictures.layout import MM
from sweep.show.pictures.stills import solids_of, stills_picture
from sweep.show.say.report import Report
from sweep.show.solids.moments import MOST_FRAMES, moments_of
from sweep.show.solids.stock import Batch, stretch
from sweep.units import Units

NAMES = ["corner-cupboard-cornice", "tilted-cove", "stopped-cove", "off-the-edge", "too-greedy"]


@pytest.fixture(scope="module")
def outcomes():
    """Some demo scenes, simulated and judged."""
    return {name: report_of(name).outcome for name in NAMES}


@pytest.fixture(scope="module")
def stills(drawn, outcomes):
    """`passes.png` of two scenes: one that is well, and one where all is wrong."""
    return {name: stills_of(Report(outcomes[name], Units())) for name in ("corner-cupboard-cornice", "too-greedy")}


@pytest.fixture(scope="module")
def movie(drawn, outcomes, tmp_path_factory):
    """The demo scene's `removal.gif` with some of its shots: its path, these shots, its frames.

    They are every third of the first and the last pass, and the end of every pass.
    """
    from sweep.show.pictures import movie

    path, outcome = tmp_path_factory.mktemp("movie") / "removal.gif", outcomes["corner-cupboard-cornice"]
    film = film_of(Report(outcome, Units()))
    shots = [shot for shot in shots_of(film)[2::3] if shot.is_last or shot.moment.number in (1, 8)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(movie, "shots_of", lambda _: shots)
        movie.write_movie(path, film)
    with Image.open(path) as picture:
        frames = []
        for k in range(picture.n_frames):
            picture.seek(k)
            frames.append(np.asarray(picture.convert("RGB")))
    return path, shots, frames


def reds(picture):
    """How many pixels have the red of a warning."""
    r, g, b = (picture[..., k].astype(int) for k in range(3))
    return int(((r > 150) & (g < 70) & (b < 70)).sum())


def differ(one, other):
    """Which pixels of two pictures are not of one colour."""
    return np.logical_or.reduce([one[..., k] != other[..., k] for k in range(3)])


def with_passes(count, **more):
    """The demo scene's job in some number of equal rises."""
    scene = read_scene(CORNICE)
    heights = tuple(16.0 * k / count for k in range(1, count + 1))
    return scene.model_copy(update={"passes": scene.passes.model_copy(update={"heights": heights, **more})})


def test_the_stills_have_their_size_and_a_free_border(stills):
    """Wide enough to read, and no word or panel touches the border."""
    for picture in stills.values():
        assert picture.shape[1] == 2200
        assert 1200 < picture.shape[0] < 2400
        assert 0.1 < is_drawn(picture).mean() < 0.6
        assert is_free(picture, 20)


def test_a_flagged_pass_is_red_in_its_title_and_only_there(stills):
    """Titles of flagged passes stand in the band above the panels; the good scene has none."""
    assert reds(stills["too-greedy"][170:240]) > 500
    assert reds(stills["corner-cupboard-cornice"][:1200]) == 0


def test_a_profile_out_of_tolerance_shows_both_colours_of_the_bar(stills):
    """Wood left is blue, cut too deep red; within a fraction of the tolerance the finished cove stays pale."""

    def coloured(picture):
        panel = picture[-920:-280, 100:880].astype(int)  # the finished moulding, without its bar
        spread = panel[..., 2] - panel[..., 0]
        return (spread > 60).mean()

    assert coloured(stills["too-greedy"]) > 0.05
    assert coloured(stills["corner-cupboard-cornice"]) == 0


@pytest.mark.parametrize("name", NAMES)
def test_each_panel_holds_the_whole_stock_and_no_two_are_alike(drawn, outcomes, name):
    """Nothing touches the border, and every pass changes the picture."""
    from sweep.show.vtk.turned_over import pictures_end_on

    job = outcomes[name].job
    colours = cut_colours(len(job.passes))
    meshes = [(stage.mesh, colours[stage.mesh.cut_by], None) for stage in job.stages]
    (pictures,) = pictures_end_on([Batch(job.scene.stock, meshes, (330, 264))])
    for picture in pictures:
        assert picture.shape == (264, 330, 3)
        assert is_drawn(picture).mean() > 0.15
        assert is_free(picture, 2)
    for before, after in itertools.pairwise(pictures):
        assert is_drawn(255 - np.abs(before.astype(int) - after)).mean() > 0.01


def test_the_cut_is_drawn_in_the_colour_of_its_pass(drawn, outcomes):
    """Green at the end, violet at the start: hue follows the map, whatever the light does."""
    from sweep.show.vtk.turned_over import pictures_end_on

    job = outcomes["corner-cupboard-cornice"].job
    colours = cut_colours(len(job.passes))
    first, last = (job.stages[k].mesh for k in (1, 8))
    meshes = [(mesh, colours[mesh.cut_by], None) for mesh in (first, last)]
    (pictures,) = pictures_end_on([Batch(job.scene.stock, meshes, (330, 264))])
    violet, green = ((p.astype(int)[..., 2] - p[..., 1], p.astype(int)[..., 1] - p[..., 0]) for p in pictures)
    assert (violet[0] > 25).mean() > 0.01
    assert (violet[1] > 25).mean() < 0.001
    assert (green[1] > 40).mean() > 0.08
    assert (green[0] > 25).mean() < 0.001


def test_the_movie_has_every_frame_and_loops(movie, outcomes):
    """As many frames as moments, of the stated size, a few seconds long, and small enough to send; here a few."""
    path, shots, frames = movie
    outcome = outcomes["corner-cupboard-cornice"]
    expected = moments_of(outcome.job.scene)
    with Image.open(path) as picture:
        assert picture.info["loop"] == 0
        seconds = []
        for k in range(picture.n_frames):
            picture.seek(k)
            seconds.append(picture.info["duration"] / 1000)
    assert [shot.moment for shot in shots_of(film_of(Report(outcome, Units())))] == list(expected)
    assert len(frames) == len(shots) == 12 and len(expected) <= 90
    assert all(frame.shape == (700, 900, 3) for frame in frames)
    assert 4 < sum(seconds) + (len(expected) - len(shots)) * seconds[0] < 15  # none that is left out ends a pass
    assert path.stat().st_size < 0.25e6


def test_frames_written_one_by_one_are_read_as_they_were_drawn(tmp_path):
    """One that changes nothing, a single pixel, all but one, and one that takes back; in colours of a palette."""
    still = np.full((9, 13), 3, np.uint8)
    spot, all_but = still.copy(), np.full((9, 13), 200, np.uint8)
    spot[8, 12] = 219
    all_but[0, 0] = 3
    frames, times = [still, still, spot, all_but, still], [80, 320, 80, 2400, 10]
    drawn = [Image.fromarray(frame) for frame in frames]
    for one in drawn:
        one.putpalette(bytes(range(220)) * 3)
    write_gif(tmp_path / "some.gif", zip(drawn, times, strict=True))

    with Image.open(tmp_path / "some.gif") as read:
        assert read.info["loop"] == 0
        for number, (one, lasting) in enumerate(zip(drawn, times, strict=True)):
            read.seek(number)
            assert read.info["duration"] == lasting
            assert np.array_equal(np.asarray(read.convert("RGB")), np.asarray(one.convert("RGB")))
        assert read.n_frames == len(frames)


def test_every_frame_differs_from_the_one_before_and_none_touches_the_border(movie):
    """The blade turns and the stock moves; the camera holds everything."""
    _, _, frames = movie
    for before, after in itertools.pairwise(frames):
        assert differ(before, after).mean() > 0.001
    for frame in frames:
        assert is_free(frame, 6)
        assert is_drawn(frame).mean() > 0.15


def test_what_stands_still_does_not_flicker(movie):
    """Table and fence keep one and the same colour, to the last bit, in all frames: one palette for all."""
    _, _, frames = movie
    still = ~np.logical_or.reduce([differ(frame, frames[0]) for frame in frames])
    assert (still & is_drawn(frames[0])).mean() > 0.05


def test_the_stock_turned_over_keeps_what_was_cut(movie):
    """From the end of one pass to the end of the next, the lower view's cove gets wider, never narrower."""
    _, shots, frames = movie
    strip = np.s_[485:640, 30:870]
    wood = []
    for frame in (frame for frame, shot in zip(frames, shots, strict=True) if shot.is_last):
        r, g, b = (frame[strip][..., k].astype(int) for k in range(3))
        wood.append(int(((r > g) & (r - b > 25)).sum()))
    assert len(wood) == 8
    assert all(after < before for before, after in itertools.pairwise(wood)), wood


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("tilted-cove", {}),
        ("stopped-cove", {}),
        ("off-the-edge", {"fence_side": "far"}),
        ("too-greedy", {}),
        ("corner-cupboard-cornice", {"fence_angle": math.radians(5)}),
        ("corner-cupboard-cornice", {"fence_angle": math.radians(85)}),
        ("corner-cupboard-cornice", {"blade_tilt": math.radians(-30), "fence_angle": math.radians(40)}),
    ],
)
def test_both_views_hold_everything_at_any_setting(drawn, outcomes, name, changes):
    """At the start, in the middle and at the end of the last pass nothing touches the border of either view."""
    from sweep.show.pictures.two_views import TwoViews

    scene = outcomes[name].job.scene
    scene = scene.model_copy(update={"setup": scene.setup.model_copy(update=changes)})
    views = TwoViews(scene, cut_colours(len(scene.passes.heights)), 450, 200, 84)
    moments = [m for m in moments_of(scene) if m.number == len(scene.passes.heights)]
    for moment in (moments[0], moments[len(moments) // 2], moments[-1]):
        picture = np.asarray(views.picture(moment, 0))  # half as large again
        for view in (picture[:300], picture[300:]):
            assert is_free(view, 1)
            assert is_drawn(view).mean() > 0.1
    for label in views.labels():
        assert 0 < label.x < 450
        assert 0 < label.y < 200
    views.close()


def test_the_blade_turns_between_frames_and_nothing_else_does(drawn, outcomes):
    """At one and the same moment, two frames differ in a small patch only, and in single pixels of sharp edges.

    How near and how far the camera sees goes by the teeth too, and with it the last digits of all depths.
    """
    from sweep.show.pictures.two_views import TwoViews

    outcome = outcomes["corner-cupboard-cornice"]
    views = TwoViews(outcome.job.scene, cut_colours(len(outcome.job.passes)), 900, 400, 168)
    moments = moments_of(outcome.job.scene)
    moment = replace(moments[-1], travel=travel_range(outcome.job.scene, moments[-1].number)[1])
    here, there = (np.asarray(views.picture(moment, k).resize((900, 568), Image.Resampling.BOX), int) for k in (0, 1))
    views.close()
    patches, count = ndimage.label(np.abs(here - there).max(axis=-1) > 20, np.ones((3, 3)))
    of_some_size = [np.argwhere(patches == number) for number in range(1, count + 1) if (patches == number).sum() > 1]
    changed = np.concatenate(of_some_size)
    assert 50 < len(changed) < 5000 and count - len(of_some_size) < 20
    assert np.all(np.ptp(changed, axis=0) < 200)


@pytest.mark.parametrize("name", ["corner-cupboard-cornice", "stopped-cove", "tilted-cove"])
@pytest.mark.parametrize("share", [0.1, 0.5, 0.97])
def test_the_stretch_over_the_saw_is_the_same_wood_as_the_whole(drawn, outcomes, name, share):
    """A section of the stretch that the movie cuts on its own is the whole stock's at the same place."""
    scene = outcomes[name].job.scene
    number = len(scene.passes.heights)
    start, end = travel_range(scene, number)
    travel = start + share * (end - start)
    first, last = max(0.0, travel - 100), min(scene.stock.length, travel + 100)
    whole = stage(scene, number, travel).mesh
    part = stage(stretch(scene, first, last), number, travel - first).mesh
    for place in np.linspace(0.013, 0.987, 7) * (last - first):
        around = []
        for mesh, x in ((whole, first + place), (part, place)):
            segments, _ = mesh.section(x)
            around.append(np.hypot(*(segments[:, 1] - segments[:, 0]).T).sum())
        assert around[0] == pytest.approx(around[1], rel=1e-6)


@pytest.mark.parametrize("count", [1, 2, 7, 8, 14, 15, 60, 500])
def test_any_number_of_passes_gives_a_movie_of_some_ninety_frames_at_most(count):
    """Passes in order, travel that never goes back, the last pass to its end."""
    scene = with_passes(count)
    moments = moments_of(scene)
    assert 40 <= len(moments) <= MOST_FRAMES <= 90
    numbers = [moment.number for moment in moments]
    assert numbers == sorted(numbers)
    assert numbers[-1] == count
    assert len(set(numbers)) == sum(moment.is_last for moment in moments)
    for before, after in itertools.pairwise(moments):
        assert after.travel > before.travel or after.number > before.number
    assert moments[-1].travel > travel_range(scene, count)[1]


def test_the_movie_ends_with_the_blade_clear_of_the_wood(outcomes):
    """The trailing end has gone past the rim; a blade that stops in the wood is lowered below the table."""
    for name in NAMES:
        scene = outcomes[name].job.scene
        last = moments_of(scene)[-1]
        if name == "stopped-cove":
            assert last.height == 0
            continue
        along = scene.feed.direction[:2]
        below = scene.tool.radius - last.height  # of the arbor's centre, for an upright blade at least that
        chord = math.sqrt(scene.tool.radius**2 - below**2)
        assert last.travel - scene.stock.length > chord * abs(along[1])


def test_sixty_passes_make_twelve_panels():
    """The picture stays a page: some passes are shown, their pictures clear of its border, and of each other."""
    report = Report(judge(simulate(with_passes(60), COARSE)), Units("in"))
    batches = solids_of(report)
    blanks = [[np.zeros((one.size[1], one.size[0], 3), np.uint8) for _ in one.meshes] for one in batches]
    drawing, laid = stills_picture(report, blanks)
    wide, high = MM * drawing["width"], MM * drawing["height"]
    rooms = [shapely.box(left, top, left + its.shape[1], top + its.shape[0]) for left, top, its in laid]
    assert len(batches[0].meshes) == 12
    assert round(wide) == 2200
    assert high < 3000
    assert inked(drawing, 20 / MM)[1]
    assert all(shapely.box(20, 20, wide - 20, high - 20).contains(room) for room in rooms)
    assert not any(one.intersects(other) for one, other in itertools.combinations(rooms, 2))


@pytest.mark.usefixtures("coarse_pictures")
def test_a_machine_that_cannot_draw_says_what_it_lacks(monkeypatch, outcomes, tmp_path):
    """The rendering library ends its process there; ours does all else and names the packages."""
    monkeypatch.setattr(every_picture, "draw_solids", end_the_process)
    done = []
    with pytest.raises(PictureError, match="libegl1 libgl1-mesa-dri"):
        every_picture.write_pictures(tmp_path, Report(outcomes["too-greedy"], Units()), lambda: done.append(True))
    assert done == [True]
    assert {path.name for path in tmp_path.iterdir()} == {"load.png", "surface.png", "fence.png"}
