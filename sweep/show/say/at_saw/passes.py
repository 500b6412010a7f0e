"""The screens of the passes: set, cut and look at each height, after a pass over scrap; and the saw's own guard again.

While the blade turns there is nothing to read: what is to know for a cut stands on the screen before it.
"""

from __future__ import annotations

from collections.abc import Iterator

from sweep.cut.passes import Pass
from sweep.plan.correct.measured import has_edges
from sweep.show.say.at_saw.flagged import barring, of_pass
from sweep.show.say.at_saw.made_ready import cautions_of
from sweep.show.say.at_saw.screen import Big, Measure, Screen, ScreenPicture
from sweep.show.say.cautions import IF_FORCED
from sweep.show.say.common_steps import CLEAR
from sweep.show.say.fence import rip_gap
from sweep.show.say.passes import fed_in, turns_of
from sweep.show.say.report import Report
from sweep.show.say.steps import Step

DOWN = "Lay the phone down. While the blade turns nobody looks at a screen."
STILL = "The blade stands still, and the plug is out"
"""What is told by holding a button: the end of a cut."""

OFF = "Wait until the blade stands still, pull the plug, take the wood off the table"

MEND = "As it is set this is not cut. Change the scene, have it worked out anew, and begin with the new page."


def passes(report: Report, blanks: int) -> Iterator[Screen]:
    """Yield the screens of every pass of a set-up; `blanks` go over the blade at each height, 0 where nobody knows."""
    scrap = next(step for step in report.steps if step.picture == "pass")
    end = next(step for step in report.steps if step.picture == "end")
    barred = bool(barring(report.flags))  # what is not cut is not looked at
    for one in report.job.passes:
        yield _set(report, one)
        if one.number == 1:
            yield _cut(report, one, 1, "Scrap", "One pass of scrap.", key="scrap-cut")
            if not barred:
                yield _look(report, one, "Scrap: look", (scrap.words,), key="scrap-look")
        yield _cut(report, one, blanks, f"Pass {one.number}", _every(report, blanks), key=f"pass-{one.number}-cut")
        if one.number > 1 and not barred:
            yield _look(report, one, f"Pass {one.number}: look", (), key=f"pass-{one.number}-look")
    yield Screen("end", "read", end.name, "out", (end.words,), cautions=cautions_of(report, end.cautions))


def _every(report: Report, blanks: int) -> str:
    """Return how many blanks go over the blade at a height."""
    if not blanks:
        return "Every blank at this height."
    return f"{blanks} blank{'' if blanks == 1 else 's'} at this height."


def _step(report: Report, name: str, number: int) -> Step | None:
    """Return the step of the order of work that is about a pass, of those a picture shows alike the last one."""
    found = [step for step in report.steps if step.picture == name and number in step.passes]
    return found[-1] if found else None


def _set(report: Report, one: Pass) -> Screen:
    """Return how the blade is set for a pass, and how the wood is then fed."""
    units, number = report.units, one.number
    before = 0.0 if number == 1 else report.job.passes[number - 2].height
    turns = turns_of(one.height - before, report.scene)
    up = f"up {units.as_read(one.height - before)}" if number > 1 else "up from the table"
    raised = _step(report, "height", number)
    words = [raised.words, CLEAR] if raised is not None else [_plug_in(report).words]
    asked = () if raised is None else raised.cautions
    takes = fed_in(report.scene, one) / one.feed_speed
    feed, seconds = units.feed(one.feed_speed), f"{takes:.0f} s"
    told = _step(report, "pass", number)
    if told is not None and told.name == "Last pass":
        words.append(told.words)
    else:
        words.append(f"Feed {feed}: {seconds} for a blank.")
        if told is not None and (number == 1 or one.stop is not None):
            words.append(told.words)
    if one.stop is not None:
        words.append(f"This pass halts {units.length(one.stop)} past the blade's centre.")
    if number == 1:
        words.append(f"If it must be forced, stop. {IF_FORCED}")
    return Screen(
        f"pass-{number}-set",
        "set",
        f"Pass {number}: set the blade",
        "out",
        tuple(words),
        big=(Big(units.length(one.height), f"{up}{f', {turns} turns' if turns else ''}"),),
        flags=of_pass(report.flags, number),
        cautions=cautions_of(report, dict.fromkeys((*asked, *(() if told is None else told.cautions), "hands"))),
        picture=ScreenPicture("pass", number=number),
        tick=f"A tick to hear each second of the cut: {takes:.0f} to a blank",
    )


def _plug_in(report: Report) -> Step:
    return next(step for step in report.steps if step.picture == "plug")


def _cut(report: Report, one: Pass, blanks: int, title: str, what: str, key: str) -> Screen:
    """Return the screen of a cut; where a flag bars it, the flag in its place."""
    barred = barring(report.flags)
    if barred:
        return Screen(key, "barred", f"{title}: not cut as it is set", "out", (MEND,), flags=barred)
    picture = ScreenPicture("wood", number=one.number)
    return Screen(key, "cut", f"{title}: cut", "turns", (DOWN, what), picture=picture, count=blanks)


def _look(report: Report, one: Pass, title: str, words: tuple[str, ...], key: str) -> Screen:
    """Return what is measured after a pass."""
    big: tuple[Big, ...] = ()
    measure, said = None, f"{OFF} and measure."
    if report.scene.feed.along_blade:
        big = (Big(report.units.nearest(rip_gap(report.scene)), "from the edge at the fence to the cut"),)
    elif has_edges(report.scene, report.job.sections[one.number - 1]):
        measure = _measured(report, one)
        big = (Big(measure.width, "wide at the table"),)
        flat = "" if measure.flat is None else f", with {measure.flat} of flat at the fence"
        said = f"{OFF} and measure: it should be {measure.depth} deep{flat}."
    else:
        said = (
            f"{OFF}. It meets what was cut before, with no two edges to measure between: compare it with the picture."
        )
    picture = ScreenPicture("wood", number=one.number)
    return Screen(key, "look", title, "out", (said, *words), big=big, picture=picture, measure=measure)


def _measured(report: Report, one: Pass) -> Measure:
    units, scene, taken = report.units, report.scene, report.job.sections[one.number - 1]
    assert taken.edges is not None  # both edges are there to be measured between
    left, right = taken.edges[0] + scene.stock.width / 2, scene.stock.width / 2 - taken.edges[1]
    flat = right if scene.setup.fence_side == "near" else left
    return Measure(
        one.number, units.nearest(taken.width), units.nearest(taken.top), units.nearest(flat) if flat > 0 else None
    )
