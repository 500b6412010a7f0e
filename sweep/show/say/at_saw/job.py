"""All screens of a job at the saw, from the cautions to the record, over one set-up or several."""

from __future__ import annotations

from collections.abc import Iterator

from sweep.check.flag import Flag
from sweep.show.say.at_saw.afterwards import afterwards
from sweep.show.say.at_saw.made_ready import made_ready
from sweep.show.say.at_saw.passes import passes
from sweep.show.say.at_saw.screen import Screen, ScreenPicture
from sweep.show.say.cautions import SENTENCE, Caution, cautions
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport, fallen_sentence, setup_headline

BEFORE = "What is ticked here is for the memory: it says what was done, never that it was done well."


def screens_of(report: Report | SetupsReport) -> tuple[Screen, ...]:
    """Return the screens of a job in the order of the work, their keys all different."""
    return tuple(_all(report))


def _all(report: Report | SetupsReport) -> Iterator[Screen]:
    blanks = 0 if report.cut_list is None else report.cut_list.passed
    if isinstance(report, Report):
        yield _first(report.flags, cautions(report.scene, report.layout, report.units))
        yield from made_ready(report)
        yield from passes(report, blanks)
        yield from afterwards(report, report.job, report.flags)
        return
    flags = tuple(flag for one in report.reports for flag in one.flags) + report.verdict.flags
    known: dict[str, Caution] = {}
    for one in report.reports:
        for each in cautions(one.scene, one.layout, one.units):
            known.setdefault(f"{each.name} {each.words}", each)
    yield _first(flags, tuple(known.values()))
    for place, (one, setting) in enumerate(zip(report.reports, report.moulding.settings, strict=True)):
        said = tuple(filter(None, (f"{setup_headline(one, setting)}.", fallen_sentence(report, setting))))
        lies = Screen("lies", "read", setting.name, "out", said, picture=ScreenPicture("lies"))
        for screen in (lies, *made_ready(one), *passes(one, blanks)):
            yield screen.of_setup(place, setting.asked.place)
    yield from afterwards(report, report.moulding, report.verdict.flags)


def _first(flags: tuple[Flag, ...], told: tuple[Caution, ...]) -> Screen:
    """Return the first screen: every flag, every caution."""
    return Screen("cautions", "read", "Before anything is set", "out", (SENTENCE, BEFORE), flags=flags, cautions=told)
