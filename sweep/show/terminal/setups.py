"""A run of several set-ups on the terminal: one after the other as if it were alone, and then the whole."""

from __future__ import annotations

from rich.console import Console

from sweep.show.say.finishing import finishing_sentences
from sweep.show.say.passes import pass_rows, title_of
from sweep.show.say.planning import planning_sentence
from sweep.show.say.profile import marks_of
from sweep.show.say.setups import SetupsReport, fallen_sentence, how_it_lies, setup_headline
from sweep.show.say.wood import wood_sentence
from sweep.show.terminal.fence import print_fence
from sweep.show.terminal.flags import print_flags, print_verdict
from sweep.show.terminal.run import print_passes

NOT_ASKED_FOR = (
    "Left out by --no-pictures: setups.png, removal.gif, and passes.png, load.png, fence.png and surface.png of each "
    "set-up."
)


def print_setups(console: Console, report: SetupsReport) -> None:
    """Print every set-up in turn: how the stock lies, its passes, what falls off, what is flagged."""
    units, moulding = report.units, report.moulding
    console.print(
        f"{title_of(report.scene)}: {len(report.scene.setups)} set-ups, {moulding.passes} passes", style="bold"
    )
    for one, setting in zip(report.reports, moulding.settings, strict=True):
        console.print()
        console.print(setup_headline(one, setting), style="bold")
        print_passes(console, pass_rows(one.outcome, units))
        print_flags(console, (*one.flags, *one.outcome.may_exceed), units)
        planned = planning_sentence(one.plan, report.scene.plan, units) if one.plan and len(one.job.passes) > 1 else ""
        for sentence in (planned, marks_of(one.surface, units), fallen_sentence(report, setting)):
            if sentence:
                console.print(sentence)
    console.print()
    console.print(wood_sentence(report.scene, units))
    print_flags(console, report.verdict.flags, units)
    print_verdict(console, report.verdict, units)
    for sentence in finishing_sentences(moulding, units):
        if sentence:
            console.print(sentence)


def print_fences(console: Console, report: SetupsReport) -> None:
    """Print how the fence is set for every set-up in turn."""
    for one, setting in zip(report.reports, report.moulding.settings, strict=True):
        console.print(f"{setting.asked.place}. {setting.name}: stock {how_it_lies(setting)}", style="bold")
        print_fence(console, one)
        console.print()
