"""The window on the desk, drawn off screen: what it shows is what the library says at that moment."""

from __future__ import annotations

import gc
import itertools
import weakref
from dataclasses import replace

import numpy as np
import pytest
from demos import SCENES
from reports import report_of, setups_report_of
from vtkmodules.util.numpy_support import vtk_to_numpy

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.cut.stages import stage, travel_range
from sweep.errors import PictureError
from sweep.scene.read import read_scene
from sweep.show.draw.colours import FAINT
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.show.vtk import can_draw as drawing
from sweep.units import Units

NAMES = ["corner-cupboard-cornice", "stopped-cove", "tilted-cove", "too-greedy"]
SETUPS = "base-of-two-coves"
CHORD = 0.01  # mm, at which the window draws
PASSES_FROM = 0.66  # of the width, the row of passes


@pytest.fixture(scope="module")
def outcomes():
    """Some demo scenes, simulated and judged."""
    return {name: report_of(name).outcome for name in NAMES}


@pytest.fixture(params=NAMES)
def outcome(request, outcomes):
    """Each of them."""
    return outcomes[request.param]


@pytest.fixture(scope="module")
def windows(drawn):
    """All windows that were opened, by what they show."""
    opened = {}
    yield opened
    for window in opened.values():
        window.close()


@pytest.fixture
def open_window(windows):
    """Give the window of an outcome: as it opens, where another test has used it before."""
    from sweep.show.window.desk_window import DeskWindow

    def opened(outcome, style="mm", size=(900, 600)):
        several = isinstance(outcome, SetupsReport)
        key = id(outcome), style  # reports and outcomes are kept as long as the windows
        if key not in windows:
            report = replace(outcome, units=Units(style)) if several else Report(outcome, Units(style))
            windows[key] = DeskWindow(report, size, off_screen=True)
            return windows[key]
        window = windows[key]
        if window.playing:
            press(window, "space")
        window.plotter.render_window.SetSize(*size)
        press(window, "1")
        drag(window.sliders[0], 0.5)
        if len(window.sliders) > 1:
            drag(window.sliders[1], 1)
        return window

    yield lambda *asked: by_steps(opened(*asked), 0.04)


def by_steps(window, seconds):
    """Let a clock go on by so much with every tick; return the window."""
    window.clock = itertools.count(0.0, seconds).__next__
    return window


def drag(slider, value):
    """Do what the mouse does to a slider."""
    slider.GetRepresentation().SetValue(value)
    slider.InvokeEvent("InteractionEvent")


def press(window, key):
    """Do what the keyboard does."""
    hands = window.plotter.iren.interactor
    hands.SetKeySym(key)
    hands.InvokeEvent("KeyPressEvent")


def corners_of(surface):
    """Every triangle that a surface draws, in its own frame, (m, 3, 3)."""
    drawn = surface.actor.GetMapper().GetInput()
    corners = vtk_to_numpy(drawn.GetPolys().GetConnectivityArray()).reshape(-1, 3)
    return vtk_to_numpy(drawn.GetPoints().GetData())[corners]


def stock_shown(window):
    """Every triangle of the stock that is shown, cut or not, in the stock frame."""
    return np.vstack([corners_of(window.saw.cut), corners_of(window.saw.wood)])


def volume(corners):
    """What triangles enclose, by the divergence theorem."""
    a, b, c = (corners[:, k] for k in range(3))
    return np.einsum("ij,ij->", a, np.cross(b, c)) / 6


def tallest_in_row(window):
    """Which cell of the row of passes stands out, from 1."""
    row = window._row.GetInput()
    tops = vtk_to_numpy(row.GetPoints().GetData())[:, 1].reshape(-1, 4).max(axis=1)
    assert (tops == tops.max()).sum() == 1
    return int(tops.argmax()) + 1


def highest(window):
    """The highest point of the blade as it stands in the machine."""
    tops = []
    for part in window.saw.blade:
        matrix = part.actor.GetUserMatrix()
        up = np.array([matrix.GetElement(2, column) for column in range(4)])
        tops.append((corners_of(part) @ up[:3] + up[3]).max())
    return max(tops)


def test_the_stock_shown_is_the_stage_where_the_sliders_stand(open_window, outcome):
    """Its volume is that of the library's solid, in the first and the last pass, from beginning to end."""
    window = open_window(outcome)
    feed, passes = window.sliders
    for number, share in itertools.product((1, len(outcome.job.passes)), (0.0, 0.2, 0.55, 1.0)):
        drag(passes, number)
        drag(feed, share)
        start, end = travel_range(outcome.job.scene, number)
        whole = stage(outcome.job.scene, number, start + share * (end - start), CHORD)
        assert volume(stock_shown(window)) == pytest.approx(whole.volume, rel=1e-9)


def test_the_pass_slider_snaps_to_whole_passes(open_window, outcomes):
    """Dragged to 4.4, it stands at 4, and so do words and row of colours."""
    window = open_window(outcomes["corner-cupboard-cornice"])
    drag(window.sliders[1], 4.4)
    assert window.sliders[1].GetRepresentation().GetValue() == 4
    assert window.told.title.input == "Pass 4 of 8"
    assert tallest_in_row(window) == 4


def test_the_blade_stands_as_high_as_the_pass(open_window, outcome):
    """While a tooth goes by, its tip comes up to the height of the pass and never above it."""
    window = open_window(outcome)
    window.play_or_pause()
    for one in outcome.job.passes:
        drag(window.sliders[1], one.number)
        drag(window.sliders[0], 0.3)
        tops = []
        for _ in range(10):  # tenths of a pitch
            window.tick()
            tops.append(highest(window))
        assert max(tops) <= one.height + 1e-9
        assert max(tops) == pytest.approx(one.height, abs=0.1)  # teeth are drawn in steps


def test_every_key_of_a_place_moves_the_camera_there(drawn, outcomes):
    """Behind the front of the table, along the feed, straight down, at the bench; and no two pictures are alike."""
    from sweep.show.window.desk_window import DeskWindow

    outcome = outcomes["corner-cupboard-cornice"]
    window = DeskWindow(Report(outcome, Units()), (600, 424), off_screen=True)  # its own: once seen, it draws each step
    places, pictures, feed = {}, [], outcome.job.scene.feed.direction
    for key in "12345":
        press(window, key)
        camera = window.view.camera
        places[key] = np.array(camera.position)
        pictures.append(np.asarray(window.plotter.screenshot(return_img=True)).astype(int))
        assert np.isfinite(places[key]).all()
    window.close()
    ways = {key: place / np.linalg.norm(place) for key, place in places.items()}
    assert ways["1"][1] < -0.5
    assert ways["1"][2] > 0.3
    assert ways["2"][:2] / np.linalg.norm(ways["2"][:2]) == pytest.approx(-feed[:2], abs=0.05)
    assert ways["3"] == pytest.approx([0, 0, 1], abs=2e-3)
    assert ways["4"][2] < ways["2"][2]
    for one, other in itertools.combinations(pictures, 2):
        assert (np.abs(one - other).max(axis=-1) > 20).mean() > 0.1


def test_the_close_up_shows_the_section_that_the_pass_leaves(open_window, outcomes):
    """The end that is sawn through has the area of the exact section after that pass."""
    outcome = outcomes["corner-cupboard-cornice"]
    window = open_window(outcome)
    press(window, "4")
    for taken in outcome.job.sections:
        drag(window.sliders[1], taken.number)
        drag(window.sliders[0], 0.5)
        corners = stock_shown(window)
        face = corners[(np.abs(corners[:, :, 0] - corners[:, :, 0].max()) < 1e-6).all(axis=1)]
        sides = np.cross(face[:, 1] - face[:, 0], face[:, 2] - face[:, 0])
        assert np.linalg.norm(sides, axis=1).sum() / 2 == pytest.approx(taken.left.area, rel=1e-3)


def test_it_plays_to_the_end_of_the_last_pass_and_then_from_the_first(open_window, outcomes):
    """Nothing moves before the space key, every pass is gone through, and the blade turns with it."""
    outcome = outcomes["too-greedy"]
    window = open_window(outcome)
    before = window.travel
    window.tick()
    assert window.travel == before
    by_steps(window, 0.3)
    press(window, "space")
    drag(window.sliders[0], 0.99)
    seen = []
    while window.playing and len(seen) < 1000:
        window.tick()
        seen.append((window.number, window.share))
    assert seen == sorted(seen)
    assert seen[-1] == (2, 1.0)
    press(window, "space")
    assert (window.playing, window.number, window.share) == (True, 1, 0.0)
    press(window, "space")
    assert not window.playing


def test_it_plays_by_the_clock(open_window, outcomes):
    """However long a picture takes to draw, a pass takes as long."""
    from sweep.show.window.desk_window import PASS_SECONDS

    window = open_window(outcomes["too-greedy"])
    drag(window.sliders[0], 0.0)
    now = 100.0
    window.clock = lambda: now
    press(window, "space")
    for gone in (0.1, 1.7, 2.0):
        now = 100.0 + gone
        window.tick()
        assert window.share == pytest.approx(gone / PASS_SECONDS)


def test_arrows_feed_and_the_page_keys_change_the_pass(open_window, outcomes):
    """As far as there is feed, and passes, and no further."""
    window = open_window(outcomes["too-greedy"])
    for key, before, after in (("Right", 0.5, 0.525), ("Left", 0.5, 0.475), ("Right", 1.0, 1.0), ("Left", 0.01, 0.0)):
        drag(window.sliders[0], before)
        press(window, key)
        assert window.share == pytest.approx(after)
    for key, number in (("Prior", 2), ("Prior", 2), ("Next", 1), ("Next", 1)):
        press(window, key)
        assert (window.number, window.sliders[1].GetRepresentation().GetValue()) == (number, number)


def test_the_finished_moulding_lies_on_the_bench_behind_the_last_pass(open_window):
    """Its pieces together, and no saw; looked at from the saw again the last pass is there, gone through."""
    outcome = report_of("cornice-to-fit").outcome
    window = open_window(outcome)
    for _ in range(9):
        press(window, "Prior")
    assert window.told.title.input == "The finished moulding"
    assert volume(corners_of(window.made._wood)) == pytest.approx(sum(piece.volume for piece in outcome.job.pieces))
    assert not any(part.actor.GetVisibility() for part in (window.saw.cut, window.saw.wood, *window.saw.blade))
    seen = [
        (place > 0).all() and (place < 1).all()
        for place in window.viewpoint.view(900 / 388).place(window.viewpoint.points)
    ]
    assert all(seen)
    press(window, "1")
    assert (window.number, window.share, window.told.title.input) == (8, 1.0, "Pass 8 of 8")
    assert window.saw.blade[0].actor.GetVisibility()
    press(window, "space")
    assert (window.number, window.share) == (1, 0.0)


def test_the_stock_lies_on_the_bench_in_the_middle_of_a_pass(open_window, outcomes):
    """Key 5: as the pass has left it so far."""
    outcome = outcomes["corner-cupboard-cornice"]
    window = open_window(outcome)
    press(window, "5")
    drag(window.sliders[1], 4)
    drag(window.sliders[0], 0.3)
    assert volume(corners_of(window.bench._wood)) == pytest.approx(
        stage(outcome.job.scene, 4, window.travel, CHORD).volume, rel=1e-6
    )


@pytest.mark.parametrize(("style", "height"), [("mm", "16.00 mm"), ("in", "5/8 +0.005 in"), ("in-decimal", "0.630 in")])
def test_words_are_those_of_the_pass_in_the_users_units(open_window, outcomes, style, height):
    """Height, and every flag of the pass by its name."""
    outcome = outcomes["too-greedy"]
    window = open_window(outcome, style)
    drag(window.sliders[1], 2)
    assert f"height {height}" in window.told.facts.input
    for flag in outcome.flags_of(2):
        assert flag.code.replace("-", " ") in window.told.of_pass.input
    assert window.told.of_job.input.startswith("16 flags. Job: the saw turns at 4000 rpm and the blade is marked for")


def test_mild_flags_are_named_and_do_not_alarm(open_window, outcomes):
    """The cornice's pass 7 may take more power than the motor gives."""
    window = open_window(outcomes["corner-cupboard-cornice"])
    drag(window.sliders[1], 7)

    assert window.told.of_pass.input.startswith("this pass: nothing flagged   mild: ")
    assert "power high" in window.told.of_pass.input
    assert window.told.of_pass.prop.color.float_rgb == pytest.approx(FAINT, abs=0.01)
    drag(window.sliders[1], 1)
    assert window.told.of_pass.input == "this pass: nothing flagged"


@pytest.mark.parametrize("size", [(900, 600), (1280, 800)])
@pytest.mark.parametrize("style", ["mm", "in"])
@pytest.mark.parametrize("several", [False, True])
def test_no_word_overlaps_another_or_leaves_the_window(open_window, outcomes, size, style, several):
    """The boxes of all words, in pixels, with as many flags as there can be, and with a set-up's name."""
    window = open_window(setups_report_of(SETUPS) if several else outcomes["too-greedy"], style, size)
    drag(window.sliders[1], 11 if several else 2)
    assert tuple(window.plotter.render_window.GetSize()) == size
    words = []
    for renderer in window.plotter.renderers:
        boxes = []
        for prop in renderer.GetViewProps():
            if not prop.IsA("vtkTextActor"):
                continue
            words.append(prop.GetInput())
            box, foot = [0.0] * 4, prop.GetPositionCoordinate().GetComputedViewportValue(renderer)
            prop.GetBoundingBox(renderer, box)
            boxes.append((foot[0] + box[0], foot[0] + box[1], foot[1] + box[2], foot[1] + box[3]))
            if "q closes" in words[-1] or "5 on the bench" in words[-1]:  # beside it is the row of passes
                assert boxes[-1][1] < PASSES_FROM * size[0] - 4
        wide, tall = renderer.GetSize()
        for left, right, low, top in boxes:
            assert left > 8
            assert right < wide - 8
            assert low >= 0
            assert top <= tall
        for one, other in itertools.combinations(boxes, 2):
            assert one[1] < other[0] or other[1] < one[0] or one[3] < other[2] or other[3] < one[2]
    assert any("not permission to cut" in word for word in words)
    assert len(words) == 9


def test_it_goes_through_all_set_ups(open_window):
    """Whichever pass the slider stands at, stock, blade and words are those of its set-up; playing goes through all."""
    report = setups_report_of(SETUPS)
    window = open_window(report, "in")
    number = 0
    for place, job in enumerate(report.moulding.jobs):
        scene = job.scene
        for own, one in enumerate(job.passes, start=1):
            number += 1
            drag(window.sliders[1], number)
            drag(window.sliders[0], 0.6)
            start, end = travel_range(scene, own)
            assert window.travel == pytest.approx(start + 0.6 * (end - start))
            assert volume(stock_shown(window)) == pytest.approx(
                stage(scene, own, window.travel, CHORD).volume, rel=1e-5
            )
            assert highest(window) == pytest.approx(one.height, abs=0.45)  # the rim falls between two teeth
            name = report.moulding.settings[place].name
            assert window.told.title.input == f"{place + 1}. {name}: pass {own} of {len(job.passes)}"
    assert number == report.moulding.passes
    drag(window.sliders[1], 9)
    drag(window.sliders[0], 1.0)
    press(window, "space")
    window.tick()
    assert (window.number, window.share, window.told.title.input[:2]) == (10, 0.0, "3.")


def test_one_pass_needs_no_slider_for_passes(open_window):
    """The feed's slider alone, and everything else as ever."""
    scene = read_scene(SCENES / "too-greedy.toml")
    alone = scene.passes.model_copy(update={"heights": scene.passes.heights[-1:]})
    window = open_window(judge(simulate(scene.model_copy(update={"passes": alone}))))
    assert len(window.sliders) == 1
    drag(window.sliders[0], 1.0)
    assert window.told.title.input == "Pass 1 of 1"


def test_a_closed_window_is_freed(drawn, outcomes):
    """Nothing keeps it, nor its actors, once the caller lets go."""
    from sweep.show.window.desk_window import DeskWindow

    window = DeskWindow(Report(outcomes["too-greedy"], Units()), (900, 600), off_screen=True)
    window.plotter.screenshot(return_img=True)
    kept = [weakref.ref(window), weakref.ref(window.saw), weakref.ref(window.plotter)]
    window.close()
    del window
    gc.collect()
    assert [one() for one in kept] == [None, None, None]


def test_without_a_display_one_sentence_says_so(monkeypatch):
    """And what else can be done."""
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    with pytest.raises(PictureError, match=r"no display here .* 'sweep run'"):
        drawing.require_window()


@pytest.mark.parametrize("ends", ["import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", "print('on no display')"])
def test_a_display_that_cannot_show_solids_is_found_out_without_risk(monkeypatch, ends):
    """Whether the rendering library ends its process or draws where nobody sees it."""
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(drawing, "_WINDOW_PROBE", ends)
    with pytest.raises(PictureError, match="libgl1 libgl1-mesa-dri"):
        drawing.require_window()
