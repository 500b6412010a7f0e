"""What is printed: tables that fit a terminal of 80 columns, every figure of a row under its own unit."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from demos import DEMOS
from reports import report_of

from sweep.show.say.passes import pass_rows, pass_table
from sweep.show.say.table import Column, Table
from sweep.show.terminal.console import Terminal
from sweep.show.terminal.cutlist import print_cut_list
from sweep.show.terminal.fence import print_fence
from sweep.show.terminal.run import print_run
from sweep.show.terminal.solve import print_care
from sweep.show.terminal.tables import print_table
from sweep.units import Shown, Units


def printed(show) -> list[str]:
    """The lines that a function prints on a terminal of 80 columns."""
    sent = io.StringIO()
    show(Terminal(file=sent, width=80, soft_wrap=True, markup=False, emoji=False))
    return sent.getvalue().splitlines()


def tables(lines: list[str]) -> list[str]:
    """The lines of tables: a rule, what stands above it, and what stands below it as far as columns go on."""
    rules = [k for k, line in enumerate(lines) if line.startswith("───")]
    found = []
    for rule in rules:
        wide = len(lines[rule])
        found += [line for line in lines[max(0, rule - 2) : rule + 40] if len(line) == wide]
    return found


@pytest.mark.parametrize("style", ["mm", "in", "in-decimal"])
@pytest.mark.parametrize("name", DEMOS)
def test_every_table_of_every_demo_scene_fits_eighty_columns(name, style):
    """In any units: the run, the fence, the care and the cut list; sentences are wrapped by the terminal."""
    report = replace(report_of(name), units=Units(style))
    lines = printed(lambda console: print_run(console, report)) + printed(lambda console: print_fence(console, report))
    if report.care is not None:
        lines += printed(lambda console: print_care(console, report.care, report.completed, report.units))
    if report.cut_list is not None:
        cut = report.cut_list
        lines += printed(lambda console: print_cut_list(console, report.scene, cut, report.panel, [], report.units))

    assert tables(lines)
    assert [line for line in tables(lines) if len(line) > 80] == []


def test_sentences_are_broken_between_words_on_a_terminal_and_left_whole_elsewhere():
    """Nobody reads half a word at the end of a line, and what is sent to a file can be searched line by line."""
    report, shown = report_of("picture-rail"), {}
    for there in (True, False):
        sent = io.StringIO()
        console = Terminal(
            file=sent, width=80, soft_wrap=True, markup=False, emoji=False, force_terminal=there, no_color=True
        )
        print_fence(console, report)
        shown[there] = re.sub("\x1b\\[[0-9;]*m", "", sent.getvalue())

    assert max(len(line) for line in shown[True].splitlines()) <= 80
    assert max(len(line) for line in shown[False].splitlines()) > 200
    assert shown[True].split() == shown[False].split()


def test_figures_stand_under_the_unit_that_all_of_a_column_share():
    """Where they share none each keeps its own; words stay words."""
    rows = (
        (Shown("1", "mm"), Shown("5/8", "in", "+0.005"), Shown("2", "s")),
        (Shown("3", "mm"), "through", Shown("4", "min")),
    )
    table = Table(tuple(map(Column, ("a", "b", "c"))), rows)

    assert table.units == ("mm", "in", "")
    assert table.under_units() == (("1", "5/8 +0.005", "2 s"), ("3", "through", "4 min"))
    heads = [line.split() for line in printed(lambda console: print_table(console, table, units_above=True))[:2]]
    assert heads == [["a", "b"], ["mm", "in", "c"]]


def test_the_table_of_passes_is_the_same_for_every_output():
    """Headings, units and figures: what the terminal prints is what the page and the sheet take."""
    report = report_of("corner-cupboard-cornice")
    rows = pass_rows(report.outcome, report.units)
    lines = printed(lambda console: print_run(console, report))

    for number, cells in enumerate(pass_table(rows).under_units(), start=1):
        shown = lines[lines.index(next(line for line in lines if line.startswith("───"))) + number].split()
        assert shown[1:-2] == list(cells[:-1])
        assert shown[-1] == cells[-1]
