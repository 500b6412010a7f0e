"""What a phone at the saw shows, as plain data ready for JSON: words, figures and pictures, one screen a step."""

from __future__ import annotations

import hashlib
from typing import Any

from sweep.plan.correct.table import correction_table
from sweep.show.draw.at_saw.picture import picture_of
from sweep.show.draw.paint_svg import svg_of
from sweep.show.say.at_saw.job import screens_of
from sweep.show.say.at_saw.measured import SAYS, goes_on
from sweep.show.say.at_saw.passes import STILL
from sweep.show.say.at_saw.screen import BANNERS, Measure, Screen
from sweep.show.say.fence import beside
from sweep.show.say.flags import sentence_of
from sweep.show.say.passes import title_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport
from sweep.units import Shown


def saw_model(report: Report | SetupsReport) -> dict[str, Any]:
    """Return every screen of a job, in order, and by what its ticks are kept.

    Its `job` is a digest of the scene as it was cut: a change of any key is another job. A caution is told in full on
    the first screen of all, which has every one, and by its name on those that ask for it.
    """
    screens, pictures = screens_of(report), _Pictures()
    steps = [_step(screen, report, pictures) for screen in screens]
    return {
        "title": report.scene.title,
        "named": title_of(report.scene),
        "job": hashlib.sha256(report.scene.model_dump_json().encode()).hexdigest()[:16],
        "unit": "mm" if report.units.metric else "in",
        "example": "51.9" if report.units.metric else "2 1/32",
        "still": STILL,
        "out": BANNERS["out"],
        "units": report.units.style,
        "says": SAYS,
        "tables": [_table(one) for one in _reports(report)],
        "steps": steps,
        "pictures": pictures.drawn,
    }


def _table(report: Report) -> dict[str, Any] | None:
    """Return what measurements tell after any pass, and how what remains is fed; None where they tell nothing."""
    found, lift = correction_table(report.scene, beside(report.units)), report.scene.saw.lift_per_turn
    return found and found | {"lift": None if lift is None else round(1000 * lift), "goes": goes_on(report)}


class _Pictures:
    """The pictures of a job, each drawn once, told by its place."""

    def __init__(self) -> None:
        self.drawn: list[str] = []
        self._places: dict[Any, int] = {}

    def place(self, screen: Screen, report: Report | SetupsReport) -> int | None:
        if screen.picture is None:
            return None
        if screen.picture not in self._places:
            drawing, says = picture_of(screen.picture, report)
            self._places[screen.picture] = len(self.drawn)
            self.drawn.append(svg_of(drawing, says, f"saw-{len(self.drawn)}"))
        return self._places[screen.picture]


def _step(screen: Screen, report: Report | SetupsReport, pictures: _Pictures) -> dict[str, Any]:
    units = report.units
    told: dict[str, Any] = {
        "key": screen.key,
        "kind": screen.kind,
        "title": screen.title,
        "banner": screen.banner,
        "over": BANNERS[screen.banner],
        "words": screen.words,
    }
    more: dict[str, Any] = {
        "big": [_figure(one.shown, one.note) for one in screen.big],
        "flags": list(
            dict.fromkeys(f"{sentence_of(flag, units)}." for flag in screen.flags)
        ),  # two set-ups may share one
        "cautions": _cautions(screen),
        "picture": pictures.place(screen, report),
        "paces": [[one.words, one.seconds] for one in screen.paces],
        "count": screen.count if screen.kind == "cut" else None,
        "counts": screen.words[-1] if screen.kind == "cut" else "",
        "measure": None if screen.measure is None else _measure(screen, screen.measure),
        "tick": screen.tick,
    }
    return told | {name: value for name, value in more.items() if value not in (None, [], "")}


def _cautions(screen: Screen) -> list[list[str]]:
    """Return each caution's name and words; after the first screen, which has the words of all, the names in a line."""
    if screen.key == "cautions":
        return [[one.name, one.words] for one in screen.cautions]
    names = "; ".join(one.name.rstrip(".") for one in screen.cautions)
    return [["Told before:", f"{names}."]] if names else []


def _figure(shown: Shown, note: str) -> list[str]:
    """Return a figure, what stands small beside it, and what it is."""
    return [shown.figure, f"{shown.over} {shown.unit}".strip(), note]


def _reports(report: Report | SetupsReport) -> tuple[Report, ...]:
    return (report,) if isinstance(report, Report) else report.reports


def _measure(screen: Screen, measure: Measure) -> dict[str, Any]:
    asked = [("width", measure.width), ("depth", measure.depth), ("flat", measure.flat)]
    place = 0 if screen.picture is None else screen.picture.place
    return {
        "place": place,
        "setup": screen.setup,
        "pass": measure.number,
        "asked": [[name, str(want)] for name, want in asked if want],
    }
