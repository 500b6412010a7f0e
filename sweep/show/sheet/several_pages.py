"""What the sheet of several set-ups says: the whole job, each set-up, and what follows them; as plain data."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from sweep.check.bearing import wood_above
from sweep.cut.blank import pieces_left
from sweep.cut.settings import Setting
from sweep.show.draw.colours import hexed, setup_colours
from sweep.show.draw.fence_sketch import fence_sketch
from sweep.show.draw.on_saw import fitting_scale, height_at, on_saw_drawing
from sweep.show.draw.section import DRAWN_CHORD
from sweep.show.draw.setups import left_drawing, setups_drawing, setups_frame
from sweep.show.say.after_the_cove import after_the_cove
from sweep.show.say.cautions import cautions
from sweep.show.say.common_steps import prepared
from sweep.show.say.flags import sentence_of
from sweep.show.say.passes import title_of
from sweep.show.say.profile import marks_of, verdict_of
from sweep.show.say.report import Report
from sweep.show.say.setups import SetupsReport, fallen_sentence, how_it_lies, name_of
from sweep.show.say.table import Column, Table
from sweep.show.sheet import first_page, second_page
from sweep.show.sheet.tables import Rows, on_paper
from sweep.show.sheet.two_pages import MANY, carried, in_halves, templates
from sweep.units import degrees

FEW = 4
"""Set-ups that are drawn on the saw in two columns; more are in three."""


HIGH = 52.0
"""mm. Room for each of them."""


def several_pages(report: SetupsReport, width: float, height: float, source: str) -> dict[str, Any]:
    """Return what is said of several set-ups; pages leave so much room, mm."""
    moulding, scene, units, whole = report.moulding, report.scene, report.units, report.verdict.whole
    share = 0.62 if whole is None else 0.46  # two sections stand on the page where a moulding is wanted
    stock, frame = scene.stock, setups_frame(moulding, share * width, 62.0)
    size = " x ".join(units.length(side) for side in (stock.length, stock.width, stock.thickness))
    many = len(moulding.settings)
    more = (
        f" The spare is long enough for a set-up block to be cut off it before each of the {many - 1} set-ups that "
        "follow the first."
    )
    return {
        "part": "shop sheet",
        "facts": [f"{stock.species}, {size}", f"{len(scene.setups)} set-ups, {moulding.passes} passes"],
        "warnings": sum(len(one.flags) for one in report.reports) + len(report.verdict.flags),
        "flags": in_halves(_flags(report)),
        "section": setups_drawing(moulding, units, frame),
        "legend": [
            [hexed(colour), name_of(setting)]
            for setting, colour in zip(moulding.settings, setup_colours(many), strict=True)
        ],
        "left": None if whole is None else left_drawing(moulding, whole, units, frame),
        "verdict": "" if whole is None else verdict_of(report.verdict, units),
        "within": report.verdict.is_within_tolerance,
        "table": _table(report),
        "panels": _on_the_saw(report, width),
        "for_all": in_halves(_for_all(report)),
        "prepare": prepared(scene, more if many > 1 else "", units).words,
        "setups": [
            _setup(one, setting, report, width, height)
            for one, setting in zip(report.reports, moulding.settings, strict=True)
        ],
        "roomy": scene.order is None and not scene.finish and scene.panel is None,
        "order": second_page.order(report),
        "after": after_the_cove(moulding.finishing, moulding.jobs[0].scene, units),
        "fitting": second_page.fitting(report, moulding),
        "settings": _record(report, source),
    }


def _flags(report: SetupsReport) -> list[tuple[str, str, str]]:
    """Return every flag where they are few; else those of the whole alone, for each set-up's page has its own."""
    told = [("the job", sentence_of(flag, report.units), str(flag.code)) for flag in report.verdict.flags]
    of_each = [
        (name_of(setting), sentence_of(flag, report.units), str(flag.code))
        for one, setting in zip(report.reports, report.moulding.settings, strict=True)
        for flag in one.flags
    ]
    return told + of_each if len(told) + len(of_each) <= MANY else told


def _table(report: SetupsReport) -> Rows:
    """Return the set-ups in their order: how the stock lies, how the saw is set, what is flagged."""
    units = report.units
    headings = ("", "set-up", "stock lies", "fence", "blade high", "tilt", "passes", "flagged")
    rows = []
    for one, setting in zip(report.reports, report.moulding.settings, strict=True):
        setup, rip = one.scene.setup, one.scene.feed.along_blade
        angle = f"{degrees(setup.fence_angle):.2f} deg, {setup.fence_side} side"
        rows.append(
            (
                str(setting.asked.place),
                setting.name,
                how_it_lies(setting),
                first_page.rip_fence(one.scene, units) if rip else angle,
                units.length(setup.blade_height),
                f"{degrees(setup.blade_tilt):.2f} deg",
                str(len(one.job.passes)),
                first_page.in_short(one.flags),
            )
        )
    left = ("set-up", "stock lies", "fence", "flagged")
    return on_paper(Table(tuple(Column(heading, left=heading in left) for heading in headings), tuple(rows)))


def _on_the_saw(report: SetupsReport, width: float) -> dict[str, Any]:
    moulding = report.moulding
    columns = 2 if len(moulding.settings) <= FEW else 3
    wide = (width - 6.0 * (columns - 1)) / columns
    scale = fitting_scale(moulding, wide, HIGH)
    high = height_at(moulding, scale)
    drawn = [on_saw_drawing(one, moulding, place, scale, wide, high) for place, one in enumerate(report.reports)]
    return {"columns": columns, "drawn": drawn}


def _setup(one: Report, setting: Setting, report: SetupsReport, width: float, height: float) -> dict[str, Any]:
    """Return what is said of one set-up: carried to the saw, and its templates before and after."""
    scene, units, stock = one.scene, report.units, one.scene.stock
    size = " x ".join(units.length(side) for side in (stock.width, stock.thickness))
    marks = marks_of(one.surface, units)
    said = carried(one, width, fallen_sentence(report, setting), "set-up")
    notes = templates(one, width, height, pieces_left(scene, setting.piece, DRAWN_CHORD))
    notes["plan"] = fence_sketch(scene, one.layout, units, 0.24 * width, 46.0)
    if marks:
        notes["fence_notes"] = [*notes["fence_notes"], marks]
    if scene.feed.along_blade:  # there is little to say, and it stands with the fence
        said["tape"]["note"] = " ".join([said["tape"]["note"], *notes["fence_notes"]])
    return {
        **said,
        **notes,
        "title": name_of(setting),
        "part": f"{title_of(report.scene)}, page of set-up {setting.asked.place} of {len(report.moulding.settings)}",
        "facts": [f"stock {how_it_lies(setting)}, {size} as it lies", second_page.blade_words(scene, units)],
        "rip": scene.feed.along_blade,
        "own": in_halves(_own(one, report)),
        "cut": _cut_in_words(one),
        "within": True,
        "care": None,
    }


Row = tuple[str, str, str]
"""Number, what it is known by, the rest of it."""


def _for_all(report: SetupsReport) -> list[Row]:
    """Return what several set-ups share: steps that are the same in them, and the cautions of all, once each."""
    steps = [[(f"{step.name}.", step.words) for step in one.steps] for one in report.reports]
    shared = [[told for told in each if _is_shared(*told, report)] for each in steps]
    told = [[(one.name, one.words) for one in cautions(each.scene, each.layout, each.units)] for each in report.reports]
    return [*_once_each(shared, True), ("", "Before the blade turns", ""), *_once_each(told, False)]


def _once_each(told: Sequence[Sequence[tuple[str, str]]], are_steps: bool) -> list[Row]:
    """Return what set-ups are told, once each, with their numbers where it is not told to all that have it."""
    found = []
    for name, words in dict.fromkeys(one for each in told for one in each):
        numbers = [number for number, each in enumerate(told, start=1) if (name, words) in each]
        others = [each for each in told if (name, words) not in each and any(one[0] == name for one in each)]
        to_all = not others if are_steps else len(numbers) == len(told)
        which = "" if to_all else f"(set-up{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}) "
        found.append(("", name, f"{which}{words}"))
    return found


def _is_shared(name: str, words: str, report: SetupsReport) -> bool:
    """Return whether a step has no figure of its own, or the same in every set-up that has it."""
    alike = [step for one in report.reports for step in one.steps if f"{step.name}." == name]
    return not any(step.settings for step in alike if step.words == words) or (
        len(alike) > 1 and all(step.words == words for step in alike)
    )


def _own(one: Report, report: SetupsReport) -> list[Row]:
    """Return the steps of a set-up: in words those that are its own, of the others, run together, their names."""
    rows: list[Row] = []
    for step in one.steps:
        if not _is_shared(f"{step.name}.", step.words, report):
            rows.append((str(step.number), f"{step.name}.", step.words))
        elif rows and rows[-1][1] == "":
            rows[-1] = (rows[-1][0], "", f"{rows[-1][2]} {step.number} {step.name}.")
        else:
            rows.append((str(step.number), "", f"{step.name}."))
    return rows


def _cut_in_words(one: Report) -> str:
    """Return how large a cove is and what wood stays above it; nothing of a rip."""
    last, above, units = one.job.sections[-1], wood_above(one.job), one.units
    if one.scene.feed.along_blade:
        return ""
    left = "" if math.isinf(above) else f", {units.length(above)} of wood above it"
    return f"{units.length(last.width)} wide at the table, {units.length(last.top)} deep{left}"


def _record(report: SetupsReport, source: str) -> list[list[str]]:
    """Return everything that was set, as pairs of name and words, to find the set-ups again."""
    units, moulding = report.units, report.moulding
    blades: dict[str, list[str]] = {}
    for scene in moulding.scenes:
        for name, words in second_page.saw_settings(scene, units):
            if words not in blades.setdefault(name, []):
                blades[name].append(words)
    rows = [second_page.stock_setting(report.scene, units)]
    rows += [[name, words] for name, all_words in blades.items() for words in all_words]
    for job, setting in zip(moulding.jobs, moulding.settings, strict=True):
        said = f"stock {how_it_lies(setting)}; {second_page.set_to(job.scene, units)}"
        rows.append([f"Set-up {setting.asked.place}", f"{said}; heights {second_page.heights_of(job, units)}"])
    return [*rows, second_page.worked_out(source, moulding.chord, units)]
