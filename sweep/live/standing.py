"""How the scene of a page stands: what was made of it with every edit that can be, and what is told of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from sweep.errors import SceneError, SweepError
from sweep.live.made import Made, made_of, require_order, written_down
from sweep.live.opened import Opened
from sweep.live.trial import Refused, Trial, path_of, tried
from sweep.scene.changes import Changes, changed, differences
from sweep.scene.edits import Edit
from sweep.scene.notation import field_in_inches
from sweep.scene.places import Tables
from sweep.scene.shop import shop_in, with_its_saw
from sweep.scene.typed import as_typed
from sweep.show.page.fields import Standing
from sweep.show.page.finishing import finishing_drawn
from sweep.show.page.forms import cards_text
from sweep.show.page.passes_made import passes_made
from sweep.show.page.refusals import in_words
from sweep.show.page.settings import all_settings
from sweep.tolerance import Fineness
from sweep.units import Units


def stand(
    now: Opened,
    changes: Changes,
    edits: Sequence[Edit],
    fineness: Fineness,
    units: Units | None,
    ordered: bool = False,
) -> tuple[Trial[Made], Units]:
    """Return what can be made of a scene as it is changed, and the units that it is told in: its own unless given.

    With `ordered`, edits by which what is ordered cannot be made are left out, too; where the file has such an order,
    it is told as failing.
    """
    before, folder = changed(now.tables, changes), now.path.parent
    shop = shop_in(folder) if edits else {}

    def make(data: Tables) -> Made:
        return made_of(data, folder, fineness, units)

    def make_ordered(data: Tables) -> Made:
        made = make(data)
        require_order(made.report)
        return made

    try:
        trial = tried(before, edits, make_ordered if ordered else make, shop)
    except SweepError as wrong:
        if not ordered or not isinstance(wrong, SceneError):
            raise
        trial = tried(before, edits, make, shop)
        trial = replace(trial, made=replace(trial.made, failing=trial.made.failing or wrong))
    report = trial.made.report
    return replace(trial, data=written_down(trial.data, report)), report.units


def state_of(now: Opened, trial: Trial[Any], units: Units) -> dict[str, Any]:
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
    report, shop = trial.made.report, shop_in(now.path.parent)
    standing = Standing(
        data=trial.data,
        changed={path: pair[0] for path, pair in differences(now.tables, trial.data).items()},
        shop=with_its_saw(shop, trial.data),
        refused=_by_path(trial, units),
        both={one.edit.path for one in trial.refused if one.edit.over},
        sliders={setting["key"]: setting for setting in all_settings(report, trial.data, units)},
        inches=report.scene.stock.in_inches,
        saws=tuple(str(saw["name"]) for saw in shop.get("saws", []) if "name" in saw),
    )
    return cards_text(standing, passes_made(report), finishing_drawn(report))


def _by_path(trial: Trial[Made], units: Units) -> dict[str, tuple[str | None, str]]:
    """Return all refusals, that of a finishing operation that cannot be done among them."""
    found = refusals_of(trial, units)
    failing = trial.made.failing
    if failing is not None:
        inches = field_in_inches(trial.data, failing.field)
        shown = "up to there" if failing.field.startswith("finish") else "without it"
        found.setdefault(path_of(failing.field), (None, f"{in_words(failing, inches)} It is shown {shown}."))
    return found


def refusals_of(trial: Trial[Any], units: Units) -> dict[str, tuple[str | None, str]]:
    """Return the text that was refused at each path and why; what goes with another field is told at both."""
    found: dict[str, tuple[str | None, str]] = {}
    for one in trial.refused:
        sentence = in_words(one.wrong, _in_inches(one, units))
        text = as_typed(one.edit.value) if one.edit.do in ("type", "set") else None
        if one.path != one.edit.path:
            found.setdefault(one.path, (None, sentence))
        found[one.edit.path] = (text, sentence)
    return found


def _in_inches(one: Refused, units: Units) -> bool:
    """Return whether a refusal is told in inches: as its field was typed, or else as the page is shown."""
    shown = "0 mm" if units.metric else "0 in"
    return field_in_inches({"typed": one.edit.value, "stock": {"length": shown}}, "typed")
