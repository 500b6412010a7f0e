"""What `sweep correct` does: from what is measured of a cove that is being cut, how the job goes on."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweep.plan.correct.measured import AfterPass, Sized
    from sweep.scene.model import Scene, WholeScene

SIZES = ("width", "depth", "flat")


@dataclass(frozen=True)
class AsMeasured:
    """What was measured after one pass, as it was written on the command line.

    Parameters
    ----------
    number : int
        The pass.
    texts : dict
        Of ``width``, ``depth`` and ``flat`` each as often as it was measured; of ``points`` and of each accuracy
        (``width_accuracy``) what was said last.
    """

    number: int
    texts: dict[str, list[str]] = field(default_factory=dict)


def by_pass(options: Iterable[tuple[str, str | int]]) -> tuple[AsMeasured, ...]:
    """Return options in the order in which they were written as what they say of each pass.

    A ``pass`` begins with its number what was measured after it.

    Raises
    ------
    SceneError
        Where something is measured before any pass is named.
    """
    from sweep.errors import SceneError

    told: list[AsMeasured] = []
    for name, value in options:
        if name == "pass":
            told.append(AsMeasured(int(value)))
        elif not told:
            raise SceneError(
                f"--{name.replace('_', '-')}",
                "it is not said after which pass it was measured",
                "write --pass and its number before it",
            )
        else:
            told[-1].texts.setdefault(name, []).append(str(value))
    return tuple(told)


def correct(
    path: Path,
    options: Sequence[tuple[str, str | int]],
    record: Path | None,
    setup: str | None,
    style: str | None,
    as_json: bool,
) -> int:
    """Print how a job goes on; 1 when something is to be moved, or the target is not had if nothing is.

    What a phone's record has of passes that no option names counts as well.
    """
    from sweep.errors import SceneError, UnusableError
    from sweep.plan.correct.correction import corrected
    from sweep.plan.correct.measured import require_cove, require_measured
    from sweep.scene.read import read_scene
    from sweep.show.say.cautions import PARAGRAPH
    from sweep.show.say.fence import beside
    from sweep.show.say.numbers.correct import correct_answer
    from sweep.show.say.numbers.model import written
    from sweep.show.terminal.console import terminal
    from sweep.show.terminal.correct import print_correction
    from sweep.units import Units

    told = by_pass(options)
    scene = read_scene(path)
    units = Units(style) if style else scene.units
    whole, where, number = _set_up(scene, setup)
    try:
        require_cove(whole)
    except UnusableError as wrong:
        raise SceneError(where, wrong.problem, wrong.remedy) from None
    measured = tuple(_read(told, whole))
    if record is not None:
        named = {one.number for one in measured}
        recorded = _recorded(record, scene.title, number, len(whole.passes.heights))
        measured += tuple(one for one in recorded if one.number not in named)
    if not measured:
        raise SceneError("--pass", "it is missing", "write after which pass it was measured, for example --pass 5")
    require_measured(whole, measured)
    found = corrected(whole, measured, beside(units))
    if as_json:
        sys.stdout.write(written(correct_answer(found)))
    else:
        console = terminal()
        print_correction(console, found, units)
        console.print(PARAGRAPH, style="dim")
    return 0 if found.is_well else 1


def _set_up(scene: Scene, name: str | None) -> tuple[WholeScene, str, int]:
    """Return the set-up that is being cut, as a scene of its own, where it stands in the scene, and its number.

    Raises
    ------
    SceneError
        Where it is not said which of several, or there is none of that name.
    """
    from sweep.errors import SceneError
    from sweep.plan.complete import complete, plan_setups

    if scene.lacks_setups:
        raise SceneError(
            "setups", "they are still to be found", "run `sweep solve --write` on the scene before it is cut"
        )
    if not scene.setups:
        if name is not None:
            raise SceneError("--setup", "the scene has one set-up alone", "leave it out")
        return complete(scene).scene, "setup", 1
    planned = plan_setups(scene)
    names = [one.setting.name for one in planned]
    if name is None:
        raise SceneError("--setup", "the scene has several", f"write one of {', '.join(names)}")
    for place, one in enumerate(planned, start=1):
        if name in (one.setting.name, str(place)):
            return one.scene, one.setting.asked.field, one.setting.asked.number
    raise SceneError("--setup", "'{value}' is none of the set-ups", f"write one of {', '.join(names)}", value=name[:40])


def _read(told: Iterable[AsMeasured], scene: WholeScene) -> Iterator[AfterPass]:
    import numpy as np

    from sweep.plan.correct.measured import AfterPass
    from sweep.scene.points import read_points

    for one in told:
        file = one.texts.get("points", [])
        yield AfterPass(
            number=one.number,
            **{name: _sized(name, one, scene) for name in SIZES},
            points=np.array(read_points(Path(file[-1]))) if file else None,
            points_accuracy=_accuracy("points", one, scene),
        )


def _recorded(path: Path, title: str, setup: int, passes: int) -> Iterator[AfterPass]:
    """Yield what a phone wrote down of one set-up: of each pass, what was measured last."""
    import numpy as np

    from sweep.plan.correct.measured import AfterPass, Sized
    from sweep.scene.record import record_of

    last = {one.after_pass or passes: one for one in record_of(path, title)[0].measured if one.setup == setup}
    for number, one in sorted(last.items()):
        yield AfterPass(
            number,
            **{
                name: Sized(() if size is None else (size,), one.accuracy)
                for name, size in (("width", one.width), ("depth", one.depth), ("flat", one.flat))
            },
            points=None if one.points is None else np.array(one.points),
            points_accuracy=one.accuracy,
        )


def _sized(name: str, told: AsMeasured, scene: WholeScene) -> Sized:
    from sweep.plan.correct.measured import Sized
    from sweep.scene.read import read_option
    from sweep.units import LENGTH

    values = tuple(read_option(f"--{name}", text, LENGTH) for text in told.texts.get(name, []))
    return Sized(values, _accuracy(name, told, scene))


def _accuracy(name: str, told: AsMeasured, scene: WholeScene) -> float:
    from sweep.scene.read import read_option
    from sweep.units import LENGTH

    texts = told.texts.get(f"{name}_accuracy", [])
    return read_option(f"--{name}-accuracy", texts[-1], LENGTH) if texts else scene.accuracy.measured
