"""How the scene of a page stands: what was made of it with every edit that can be, and what is told of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.live.opened import Opened
from sweep.live.trial import Refused, Trial, path_of, tried
from sweep.plan.complete import complete
from sweep.scene.changes import Changes, changed, differences
from sweep.scene.edits import Edit
from sweep.scene.model import WholeScene
from sweep.scene.notation import field_in_inches
from sweep.scene.places import Tables, put
from sweep.scene.read import read_scene, scene_beside
from sweep.scene.shop import shop_in
from sweep.scene.typed import as_typed
from sweep.show.page.fields import Standing
from sweep.show.page.forms import cards_text
from sweep.show.page.refusals import in_words
from sweep.show.page.settings import settings_of
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.tolerance import Fineness
from sweep.units import Units


@dataclass(frozen=True)
class Made:
    """What was made of a scene.

    Parameters
    ----------
    report : Report
        Up to the first finishing operation that cannot be done.
    scene : WholeScene
        With all of them.
    failing : SceneError or None
        Why that one cannot.
    """

    report: Report
    scene: WholeScene
    failing: SceneError | None


def whole_scene(data: Tables, beside: Path) -> WholeScene:
    """Return the scene that tables hold, with nothing left out; points files are looked for beside it."""
    return complete(scene_beside(data, beside)).scene


def stand_as_it_is(path: Path, fineness: Fineness, units: Units | None) -> Report:
    """Return what is made of a scene's file as it stands."""
    return _made(complete(read_scene(path)).scene, fineness, units).report


def stand(
    now: Opened, changes: Changes, edits: Sequence[Edit], fineness: Fineness, units: Units | None
) -> tuple[Trial[Made], Units]:
    """Return what can be made of a scene as it is changed, and the units that it is told in: its own unless given."""
    before = changed(now.tables, changes)

    def make(data: Tables) -> Made:
        return _made(whole_scene(data, now.path.parent), fineness, units)

    trial = tried(before, edits, make)
    return trial, trial.made.report.units


def state_of(now: Opened, trial: Trial[Made], units: Units) -> dict[str, Any]:
    """Return what a page keeps of a scene: how it differs from the file, and what was refused, ready for JSON."""
    return {
        "changes": {path: list(pair) for path, pair in differences(now.tables, trial.data).items()},
        "refused": [
            {
                "edit": one.edit.model_dump(),
                "path": one.path,
                "sentence": in_words(one.wrong, _in_inches(one, units)),
            }
            for one in trial.refused
        ],
    }


def forms_of(now: Opened, trial: Trial[Made], units: Units) -> str:
    """Return the forms of a scene as HTML, each refusal in its place."""
    made, refused = trial.made, _by_path(trial, units)
    settings = settings_of(made.scene, trial.data, units)
    standing = Standing(
        data=trial.data,
        changed={path: pair[0] for path, pair in differences(now.tables, trial.data).items()},
        shop=shop_in(now.path.parent),
        refused=refused,
        both={one.edit.path for one in trial.refused if one.edit.over},
        sliders={setting["key"]: setting for setting in settings},
        inches=made.scene.stock.in_inches,
    )
    return cards_text(standing, tuple(row.rise.bare for row in pass_rows(made.report.outcome, units)))


def _made(scene: WholeScene, fineness: Fineness, units: Units | None) -> Made:
    """Cut a scene; where a finishing operation cannot be done, up to that one. Each turn leaves one out at least."""
    whole, failing = scene, None
    while True:
        try:
            return Made(Report(judge(simulate(scene, fineness)), units or scene.units), whole, failing)
        except SceneError as wrong:
            name, _, number = wrong.field.partition(", number ")
            if name != "finish" or not scene.finish:
                raise
            failing = wrong
            kept = int(number) - 1 if number.isdecimal() else 0
            scene = scene.model_copy(update={"finish": scene.finish[: min(kept, len(scene.finish) - 1)]})


def _by_path(trial: Trial[Made], units: Units) -> dict[str, tuple[str | None, str]]:
    """Return the text that was refused at each path and why; what goes with another field is told at both."""
    found: dict[str, tuple[str | None, str]] = {}
    failing = trial.made.failing
    if failing is not None:
        inches = field_in_inches(trial.data, failing.field)
        found[path_of(failing.field)] = (None, f"{in_words(failing, inches)} It is shown up to there.")
    for one in trial.refused:
        sentence = in_words(one.wrong, _in_inches(one, units))
        text = as_typed(one.edit.value) if one.edit.do in ("type", "set") else None
        if one.path != one.edit.path:
            found.setdefault(one.path, (None, sentence))
        found[one.edit.path] = (text, sentence)
    return found


def _in_inches(one: Refused, units: Units) -> bool:
    """Return whether a refusal is told in inches: as its field was typed, or else as the page is shown."""
    typed: Tables = {"stock": {"length": "0 mm" if units.metric else "0 in"}}
    try:
        put(typed, one.edit.path, one.edit.value)
    except SceneError:
        return not units.metric  # a member of a list
    return field_in_inches(typed, one.edit.path)
