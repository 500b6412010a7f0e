"""The screens before the passes of a set-up: the wood, the block, the blade, the fence, what holds the work, the pace.

Each is a step of the order of work, or two that are done in one place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sweep.cut.passes import Pass
from sweep.cut.room_on_saw import room_on_table
from sweep.show.say.at_saw.flagged import Where, at
from sweep.show.say.at_saw.screen import Banner, Big, Pace, Screen, ScreenPicture, View
from sweep.show.say.cautions import Caution, Key, cautions
from sweep.show.say.fence import past_of, rip_gap, where_of
from sweep.show.say.order import blanks_sentences
from sweep.show.say.passes import fed_in, turns_of
from sweep.show.say.report import Report
from sweep.show.say.steps import Step
from sweep.units import Shown, degrees

PACE = "Blade below the table, plug out: push a blank along with the bar. The bar is for practice alone."
"""What is said beside the bar that runs at the pace of a pass."""


def cautions_of(report: Report, keys: Iterable[Key]) -> tuple[Caution, ...]:
    """Return the cautions that a step asks for."""
    wanted = tuple(keys)
    return tuple(one for one in cautions(report.scene, report.layout, report.units) if one.key in wanted)


def made_ready(report: Report) -> Iterator[Screen]:
    """Yield the screens of a set-up up to the first pass."""
    steps = {step.picture: step for step in reversed(report.steps)}  # the first of a kind
    yield _of(report, "wood", "bench", "stock", "stock", [steps["wood"]], *_cut_list(report), big=_blanks(report))
    yield _of(report, "block", "bench", "stock", "block", [steps["block"]], *_marks(report), big=_drawn(report))
    yield _of(report, "height", "out", "height", "height", [steps["height"]], big=_up(report))
    yield _of(report, "fence", "out", "fence", "fence", [steps["fence"]], *_long(report), big=_stands(report))
    if "check" in steps:  # a rip is set by its fence alone
        both = [steps["check"], steps["clamps"]]
        yield _of(report, "strips", "out", "fence", "strips", both, big=_gap(report), title="Strips, block, clamps")
    both = [steps[name] for name in ("low", "guards") if name in steps]
    title = " and ".join((both[0].name, *(f"{one.name[0].lower()}{one.name[1:]}" for one in both[1:])))
    yield _of(report, "guards", "out", "guards", "guards", both, title=title)
    yield Screen("practise", "pace", "Practise the feed", "out", (PACE,), paces=tuple(_paces(report)))


def _of(
    report: Report,
    key: str,
    banner: Banner,
    where: Where,
    view: View,
    steps: list[Step],
    *more: str,
    big: tuple[Big, ...] = (),
    title: str = "",
) -> Screen:
    """Return a screen of one or two steps of the order of work."""
    flagged = at(report.flags, where) if key != "block" else ()
    return Screen(
        key,
        "read",
        title or steps[0].name,
        banner,
        (*(step.words for step in steps), *more),
        big=big,
        flags=flagged,
        cautions=cautions_of(report, (name for step in steps for name in step.cautions)),
        picture=ScreenPicture(view),
    )


def _cut_list(report: Report) -> list[str]:
    cut = report.cut_list
    return [] if cut is None else blanks_sentences(cut, report.units)[:1]


def _blanks(report: Report) -> tuple[Big, ...]:
    """Return how many blanks pass over the blade, where something is ordered."""
    cut, units = report.cut_list, report.units
    return () if cut is None else (Big(Shown(str(cut.passed)), f"blanks of {units.tape(cut.blank_length)}"),)


def _marks(report: Report) -> list[str]:
    """Return where the rim touches the block's end: the numbered crosses."""
    units = report.units
    return [
        f"{number}: the cove's {touch.where}, {units.nearest(touch.from_fence)} from the fence's side and "
        f"{units.length(touch.height)} up; the rim touches it {past_of(touch, units)} the blade's centre."
        for number, touch in enumerate(report.layout.touches, start=1)
    ]


def _drawn(report: Report) -> tuple[Big, ...]:
    """Return what is drawn on the block: how far up the cove comes, or where a rip is."""
    if report.scene.feed.along_blade:
        return (Big(report.units.length(rip_gap(report.scene)), "from the fence's side"),)
    return _up(report)


def _up(report: Report) -> tuple[Big, ...]:
    height = report.scene.setup.blade_height
    turns = turns_of(height, report.scene)
    return (Big(report.units.length(height), f"up{f', {turns} turns from the table' if turns else ''}"),)


def _stands(report: Report) -> tuple[Big, ...]:
    """Return the fence by tape; a rip's by its distance to the teeth."""
    scene, units, layout = report.scene, report.units, report.layout
    if scene.feed.along_blade:
        return (Big(units.length(rip_gap(scene)), "to the nearest teeth"),)
    found = []
    for mark in layout.face.marks:
        where = where_of(mark, layout, units)
        if mark.edge in ("front", "rear"):
            found.append(Big(units.tape(abs(mark.x)), f"{'left' if mark.x < 0 else 'right'} of the blade, {where}"))
        elif layout.on_table and scene.saw.front_to_blade is not None:
            found.append(Big(units.tape(mark.y + scene.saw.front_to_blade), f"from the front edge, {where}"))
        else:
            way = "before" if mark.y < 0 else "beyond"
            found.append(Big(units.tape(abs(mark.y)), f"{way} the blade's centre, {where}"))
    return (*found, Big(Shown(f"{degrees(layout.angle):.2f}", "deg"), "to the blade"))


def _long(report: Report) -> list[str]:
    """Return how long the fence must be at least to be clamped at both ends."""
    room = None if report.scene.feed.along_blade else room_on_table(report.scene)
    if room is None or room.fence_length is None:
        return []
    return [f"To be clamped at both edges of the table it is {report.units.tape(room.fence_length)} long or more."]


def _gap(report: Report) -> tuple[Big, ...]:
    strips = report.layout.strips
    return () if strips is None else (Big(report.units.length(strips.gap), "between the strips"),)


def _paces(report: Report) -> Iterator[Pace]:
    """Yield every pace at which a blank is fed, in the order in which they come."""
    alike: dict[tuple[float, float], list[Pass]] = {}
    for one in report.job.passes:
        alike.setdefault((one.feed_speed, fed_in(report.scene, one)), []).append(one)
    for (speed, length), passes in alike.items():
        first, last = passes[0].number, passes[-1].number
        of = f"Pass {first}" if first == last else f"Passes {first} to {last}"
        takes = length / speed
        yield Pace(f"{of}: {report.units.feed(speed)}, {takes:.0f} s", takes)
