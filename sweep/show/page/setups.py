"""What the page shows of several set-ups: each as one alone, and what all of them take of the section."""

from __future__ import annotations

from typing import Any

import numpy as np

from sweep.scene.keys import Stock
from sweep.shape.mesh import Mesh, joined
from sweep.show.draw.colours import hexed, setup_colours
from sweep.show.draw.paint_svg import svg_of
from sweep.show.draw.setups import setups_drawing, setups_frame
from sweep.show.page.model import HIGHEST, WIDTHS, WhileHeld, page_model, stage_model, stretches_model, view_model
from sweep.show.say.flags import listed_flags
from sweep.show.say.passes import title_of
from sweep.show.say.profile import verdict_of
from sweep.show.say.setups import SetupsReport, fallen_sentence, name_of, setup_headline
from sweep.show.say.worst import alert_of_setups
from sweep.show.solids.views import end_on

CHORD = 0.25
"""mm. Of what moves: there are as many passes as in several jobs, and to the eye it is the same."""


def setup_models(report: SetupsReport, feeds: bool) -> list[dict[str, Any]]:
    """Return what the page shows of each set-up, in order; the last one ends with the finished moulding.

    That is shown beside the last pass where more work follows it, or where that pass leaves what falls off.

    With `feeds` they hold the stock at every moment of every pass, or else it is asked for when it is looked at.
    """
    moulding = report.moulding
    models = [_model(place, report) for place in range(len(report.reports))]
    if feeds:
        for model, one in zip(models, report.reports, strict=True):
            model["stretches"] = {each.number: stretches_model(one, each.number, CHORD) for each in one.job.passes}
    blades = [model["blade"] for model in models]
    for place, model in enumerate(models):
        model["blade_as"] = blades.index(model["blade"])
        if model["blade_as"] < place:
            del model["blade"]  # it is that of an earlier set-up, and large
    if moulding.finishing or any(one.setting is moulding.settings[-1] for one in moulding.fallen):
        last, number = models[-1], len(moulding.jobs[-1].passes) + 1
        last["finished"] = number
        last["stages"][number] = stage_model(made_mesh(report))
        last["made"] = view_model(end_on(_planed(report)))
    return models


def overview(report: SetupsReport) -> list[dict[str, Any]]:
    """Return what each set-up takes of the planed stock's section as SVG, drawn for places of some width."""
    drawn = []
    for width in WIDTHS:
        drawing = setups_drawing(report.moulding, report.units, setups_frame(report.moulding, width, HIGHEST))
        says = "Section of the planed stock, and what each set-up takes of it"
        drawn.append({"width": width, "section": svg_of(drawing, says, f"setups-{width:g}")})
    return drawn


def held_model(report: SetupsReport, place: int, moment: WhileHeld) -> dict[str, Any]:
    """Return what the page shows while a setting is moved, of one set-up, from 0; the others stay as they were."""
    place = min(place, len(report.reports) - 1)
    return {"model": _model(place, report, moment), "place": place}


def _model(place: int, report: SetupsReport, moment: WhileHeld | None = None) -> dict[str, Any]:
    one, setting = report.reports[place], report.moulding.settings[place]
    model = page_model(one, moment)
    whole, name, alert = report.verdict.whole, name_of(setting), alert_of_setups(report)
    said = [fallen_sentence(report, setting), "" if whole is None else verdict_of(report.verdict, report.units)]
    return model | {
        "name": name,
        "brief": setup_headline(one, setting).removeprefix(f"{name}: "),
        "alert": {"words": alert.words, "flagged": alert.flagged, "pass": alert.number},
        "title": title_of(report.scene),
        "set_up": setup_headline(one, setting),
        "verdict": " ".join(filter(None, said)),
        "within": None if whole is None else report.verdict.is_within_tolerance,
        "flagged": len(one.flags),
        "flags": listed_flags(report.verdict.flags, report.units)
        + listed_flags((*one.outcome.flags, *one.outcome.may_exceed), report.units, name),
        "mark": hexed(setup_colours(len(report.reports))[place]),
        "of": setting.asked.number - 1,
    }


def made_mesh(report: SetupsReport) -> Mesh:
    """Return the finished moulding in the frame of the last set-up's stock, its passes counted from 1.

    It lies there as it was planed, not as it stood on the saw, and as high as the page takes that stock for where it
    rolls it over: so its face is up on the bench.
    """
    moulding = report.moulding
    made, last = joined([piece.mesh for piece in moulding.pieces]), moulding.jobs[-1]
    earlier = moulding.passes - len(last.passes)
    cut_by = np.where(made.cut_by > earlier, made.cut_by - earlier, 0)
    up = last.scene.stock.thickness - _planed(report).thickness
    return Mesh(made.vertices + (0.0, 0.0, up), made.triangles, cut_by)


def _planed(report: SetupsReport) -> Stock:
    return report.moulding.scene.stock
