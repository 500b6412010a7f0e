"""What each operation after the cove takes, drawn small beside its form, in the words of the order of work."""

from __future__ import annotations

from dataclasses import dataclass

from sweep.scene.model import SetUpScene
from sweep.show.draw.at_saw.picture import picture_of
from sweep.show.draw.paint_svg import svg_of
from sweep.show.say.after_the_cove import each_after_the_cove
from sweep.show.say.at_saw.screen import ScreenPicture
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport


@dataclass(frozen=True)
class Drawn:
    """One operation: its drawing as SVG, and what is done, in a sentence."""

    svg: str
    words: str


def finishing_drawn(report: Report | SetupsReport) -> dict[str, Drawn]:
    """Return every operation that is done, by the path of its table."""
    scene: SetUpScene = report.scene if isinstance(report, Report) else report.moulding.jobs[0].scene
    done = report.job.finishing if isinstance(report, Report) else report.moulding.finishing
    found = {}
    for one, (_, words) in zip(done, each_after_the_cove(done, scene, report.units), strict=True):
        drawing, says = picture_of(ScreenPicture("finishing", number=one.number), report)
        sentence = words[:1].upper() + words[1:]
        found[f"finish.{one.number - 1}"] = Drawn(svg_of(drawing, says, f"finish-{one.number}"), sentence)
    return found
