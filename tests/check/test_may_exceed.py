"""Mild flags, and the flag that the worst pass decides: against the loads themselves."""

from __future__ import annotations

from dataclasses import replace

import pytest
from saws import changed

from sweep.check.judge import judge
from sweep.cut.job import Fineness, simulate
from sweep.show.say.flags import flag_line, sentence_of
from sweep.show.say.may_exceed import mild_sentence
from sweep.units import Units

COARSE = Fineness(chord=0.05)


def test_what_only_the_band_is_past_is_said_of_its_worst_pass_and_is_no_flag(cornice):
    """The motor gives 1105 W: the usual power stays below, hard wood and dull edges do not; all is well."""
    job = simulate(cornice, COARSE)
    outcome = judge(job)
    mild = {flag.code: flag for flag in outcome.may_exceed}
    high, power = [load.high.power for load in job.loads], mild["power-high"]

    assert outcome.flags == ()
    assert outcome.is_well
    assert (power.value, power.number) == (max(high), high.index(max(high)) + 1)
    assert power.limit == pytest.approx(1105.0)
    assert max(load.usual.power for load in job.loads) < 1105.0 < power.value
    steady = min(forces.fence for load in job.loads for forces in (load.low, load.usual, load.high))
    ends = min(forces.fence for moments in job.ends for at in moments for forces in (at.low, at.forces, at.high))
    assert mild["off-the-fence"].value == -ends > -steady > 0.5
    assert sentence_of(mild["off-the-fence"], Units("mm")).startswith("as the blade enters or leaves the stock")
    assert "the sign is not known, hold the work from both sides" in sentence_of(mild["off-the-fence"], Units("mm"))
    assert flag_line(power, Units("mm")).startswith(
        f"? pass {power.number}: it may take up to {round(max(high), -2):.0f} W"  # no finer than its band
    )
    assert all(mild_sentence(flag, Units()) for flag in outcome.may_exceed)


def test_what_is_flagged_is_not_said_once_more(cornice):
    """A motor half as strong is too weak by the usual value."""
    outcome = judge(simulate(changed(cornice, "saw", motor=650.0), COARSE))

    assert "power-high" in {flag.code for flag in outcome.flags}
    assert "power-high" not in {flag.code for flag in outcome.may_exceed}


def test_one_pass_that_pulls_off_the_fence_is_enough(cornice):
    """The worst pass decides: seven that press into the fence do not make up for one that pulls off it."""
    job = simulate(cornice, COARSE)
    pulls = replace(job.loads[2], usual=replace(job.loads[2].usual, fence=-8.0))
    flags = judge(replace(job, loads=(*job.loads[:2], pulls, *job.loads[3:]))).flags

    assert [(flag.code, flag.value) for flag in flags] == [("off-the-fence", -8.0)]


def test_the_two_forces_across_add_up_to_the_balance(cornice):
    """What the teeth pull alone is more than the balance, for their sides press the other way."""
    for load in simulate(cornice, COARSE).loads:
        assert load.pulled > load.usual.fence


def test_run_out_may_take_a_shaving_past_its_limit(cornice):
    """Half a millimetre of it does, bounded by what a whole turn feeds."""
    scene = changed(changed(cornice, "blade", runout=0.5), "limits", chip_thickness=0.1)
    job = simulate(scene, COARSE)
    (flag,) = (flag for flag in judge(job).may_exceed if flag.code == "chip-thick")
    thickest = max(load.chip_thickness_max for load in job.loads)

    assert flag.value == pytest.approx(scene.blade.teeth * thickest)
