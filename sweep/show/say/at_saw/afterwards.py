"""The screens after the passes: sanding, what follows the cove, cutting off, mitring, fitting, what is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from sweep.check.flag import Flag
from sweep.cut.finish import Finishing
from sweep.cut.job import Job
from sweep.cut.mitre import mitre_angles, seated, wrapped_piece
from sweep.cut.moulding import Made
from sweep.cut.straight_cuts import saw_cuts
from sweep.plan.cutlist import CutList
from sweep.scene.finish import SecondCove
from sweep.scene.model import SetUpScene
from sweep.show.say.after_the_cove import NOT_JUDGED, UPRIGHT, each_after_the_cove
from sweep.show.say.at_saw.flagged import at, of_finishing
from sweep.show.say.at_saw.screen import Banner, Big, Screen, ScreenPicture
from sweep.show.say.finishing import mitre_sentence, sanding_sentence
from sweep.show.say.panel import panel_sentences
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import Shown, Units, degrees

KEEP = (
    "Keep a block with the finished cut, its title and the day written on it, and the record of this job beside it: "
    "what was ticked, counted and measured on this device."
)


def afterwards(report: Report | SetupsReport, made: Made, flags: Sequence[Flag]) -> Iterator[Screen]:
    """Yield the screens from sanding to what is kept; `made` is the job, or the moulding of several set-ups."""
    units = report.units
    last = ScreenPicture("kept", place=0 if isinstance(report, Report) else len(report.reports) - 1)
    if isinstance(report, Report):
        yield from _sanding(report.job, units)
        scene: SetUpScene = report.scene
    else:
        scene = report.moulding.jobs[0].scene
    told = each_after_the_cove(made.finishing, scene, units)
    for one, (name, words) in zip(made.finishing, told, strict=True):
        banner = _banner(one)
        yield Screen(
            f"after-{one.number}",
            "read",
            name,
            banner,
            (f"{words[0].upper()}{words[1:]}", *([NOT_JUDGED] if banner == "guarded" else [])),
            big=_set(one, units),
            flags=of_finishing(flags, one.number),
            picture=ScreenPicture("finishing", number=one.number),
        )
    if report.cut_list is not None:
        yield _cut_off(report.cut_list, units)
    mitred = mitre_sentence(made, units)
    if mitred:
        picture = ScreenPicture("mitred") if report.cut_list else None
        said = (mitred, *_mitred(report.cut_list, units))
        yield Screen("mitre", "read", "Mitre", "guarded", said, big=_angles(made), picture=picture)
    if report.panel is not None:
        fitted = tuple(panel_sentences(report.panel, report.scene.order, units))
        yield Screen("fit", "read", "Fit the panel", "bench", fitted, flags=at(flags, "fit"))
    yield Screen("keep", "read", "Keep a block and the record", "bench", (KEEP,), picture=last)


def _sanding(job: Job, units: Units) -> Iterator[Screen]:
    said = sanding_sentence(job, units)
    if said:
        yield Screen("sand", "read", "Sand", "bench", (said,), picture=ScreenPicture("wood", number=len(job.passes)))


def _banner(one: Finishing) -> Banner:
    """Return where it is done: a second cove as the first one, a straight cut at the saw, the rest at the bench."""
    if isinstance(one.operation, SecondCove):
        return "out"
    return "guarded" if saw_cuts(one) else "bench"


def _set(one: Finishing, units: Units) -> tuple[Big, ...]:
    """Return what is set for the first of its straight cuts."""
    cuts = saw_cuts(one)
    if not cuts:
        return ()
    apart = Big(units.tape(cuts[0].distance), "from fence to blade")
    if cuts[0].tilt < UPRIGHT:
        return (apart,)
    return apart, Big(Shown(f"{degrees(cuts[0].tilt):.2f}", "deg"), "away from the fence")


def _angles(made: Made) -> tuple[Big, ...]:
    """Return how the saw is set for a square corner, the moulding on its back."""
    mitre, bevel = mitre_angles(seated(wrapped_piece(made.pieces)).spring)
    return Big(Shown(f"{degrees(mitre):.2f}", "deg"), "mitre"), Big(Shown(f"{degrees(bevel):.2f}", "deg"), "bevel")


def _cut_off(cut: CutList, units: Units) -> Screen:
    """Return the lengths to cut off: the rough ones, mitred or trimmed afterwards."""
    rough = Counter(units.tape(piece.rough) for piece in cut.pieces)
    names: dict[str, list[str]] = {}
    for piece in cut.pieces:
        names.setdefault(units.tape(piece.rough), []).append(piece.name)
    big = tuple(
        Big(shown, f"{rough[shown]} of them: {', '.join(dict.fromkeys(names[shown]))}")
        for shown in dict.fromkeys(units.tape(piece.rough) for piece in cut.pieces)
    )
    said = (
        "Crosscut the pieces from the finished blanks, each at its rough length. Nothing of them goes over the blade "
        "again as a blank does.",
    )
    return Screen("cut-off", "read", "Cut off", "guarded", said, big=big, picture=ScreenPicture("pieces"))


def _mitred(cut: CutList | None, units: Units) -> list[str]:
    """Return how long the mitred pieces are, like ones together."""
    if cut is None:
        return []
    return [
        f"{count} x {piece.name}: {units.tape(piece.length)} at the longest, {units.tape(piece.inner_length)} at the "
        f"shortest, {('no end', 'one end', 'both ends')[piece.mitres]} mitred."
        for piece, count in Counter(cut.pieces).items()
    ]
