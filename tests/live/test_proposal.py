"""What is proposed can be set, is no worse than what was found, and says first what speaks against it."""

from __future__ import annotations

import tomllib

import pytest
from demos import SCENES

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.live import answers
from sweep.live.made import cut_whole, whole_scene, written_down
from sweep.live.proposal import proposed
from sweep.live.proposal_setups import offered
from sweep.plan.complete import plan_setups
from sweep.scene.edits import edited
from sweep.scene.read import scene_beside
from sweep.tolerance import AS_DRAGGED
from sweep.units import Units, degrees


def proposal(name: str, **setup: str) -> tuple:
    """The tables of a demo scene with its set-up changed, what is proposed for it, and the scene once that is taken."""
    now = answers.opened(SCENES / f"{name}.toml", None)
    data = tomllib.loads(now.whole)
    data["setup"] |= setup
    offer = proposed(data, whole_scene(data, SCENES), Units())
    for _, edit in offer.edits:
        data = edited(data, edit)
    return offer, whole_scene(data, SCENES)


@pytest.mark.parametrize(
    "name", ["corner-cupboard-cornice", "leaning-cove", "out-of-reach", "tilted-cove", "too-greedy"]
)
def test_what_is_taken_can_be_set_and_is_what_was_told(name):
    """Angles in hundredths of a degree at finest, heights on the step; deviation and flags as the table says."""
    offer, scene = proposal(name, fence_angle="41 deg")
    outcome, told = judge(simulate(scene)), {words: then for words, _, then in offer.rows}

    assert round(degrees(scene.setup.fence_angle) * 100, 6) % 1 == 0
    step = 0.1 if scene.plan.turn is None else scene.plan.turn * scene.saw.lift_per_turn
    assert all(abs(height / step - round(height / step)) < 1e-6 for height in scene.passes.heights)
    assert told["flags"] == str(len(outcome.flags))
    assert all(int(then) <= int(now) for words, now, then in offer.rows if words == "flags")
    assert told["feed, in the last pass"] == ", ".join(Units().feed(scene.passes.feed_speeds[k]) for k in (0, -1))
    assert float(told["furthest from the target"].split()[0]) == pytest.approx(outcome.profile.max_deviation, abs=0.01)
    assert {part for part, _ in offer.edits} <= {"set-up", "passes"}


def test_what_is_out_of_reach_says_why_and_how_near_it_comes():
    """The deep flute: 1.005 mm is the least that its blade can miss it by."""
    offer, _ = proposal("out-of-reach", fence_angle="20 deg")

    assert offer.is_far
    assert any("1.005 mm" in note and note.startswith("Out of reach: ") for note in offer.notes)


def test_more_flags_than_now_are_said_first():
    """Set as it is the cornice has none; with a weak motor's limits any plan but the maker's has some."""
    now = answers.opened(SCENES / "corner-cupboard-cornice.toml", None)
    data = tomllib.loads(now.whole)
    data["limits"] = {"thin_chip": "0.0055 mm"}
    data["setup"]["fence_angle"] = "40 deg"
    offer = proposed(data, whole_scene(data, SCENES), Units())
    flags = {words: (int(now), int(then)) for words, now, then in offer.rows if words == "flags"}["flags"]

    assert any("more than now" in note for note in offer.notes) == (flags[1] > flags[0])


def test_a_scene_that_is_as_good_as_can_be_is_left_alone():
    """Taken once, nothing is left to propose."""
    now = answers.opened(SCENES / "corner-cupboard-cornice.toml", None)
    data = tomllib.loads(now.whole)
    data["setup"] |= {"fence_angle": "41 deg"}
    for _ in range(2):
        offer = proposed(data, whole_scene(data, SCENES), Units())
        for _, edit in offer.edits:
            data = edited(data, edit)

    assert offer.edits == ()


def test_set_ups_are_offered_for_every_number_of_them_and_taken_as_the_scene_writes_them():
    """Each offer is cut as it is told: more set-ups take more, and the passes planned for them are written down."""
    data = tomllib.loads((SCENES / "ogee-crown.toml").read_text())
    offer = offered(scene_beside(data, SCENES), Units())
    shares = []
    for choice in offer.choices[::2]:
        taken = data
        for name, edit in offer.edits:
            taken = edited(taken, edit) if name == choice.name else taken
        made = cut_whole(taken, SCENES, None, AS_DRAGGED)
        written = written_down(taken, made)
        assert all("passes" in one for one in written["setups"] if "blade_height" in one)
        assert all(one.plan is None for one in plan_setups(scene_beside(written, SCENES)))
        shares.append(made.verdict.whole.waste_share)
        assert float(choice.cells[0].split()[0]) == pytest.approx(100 * shares[-1], abs=0.1)

    assert len(shares) == 3
    assert shares == sorted(shares)
    assert [choice.name for choice in offer.choices if choice.is_chosen] == ["4 set-ups"]  # as many as a scene may have
