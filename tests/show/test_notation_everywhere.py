"""A scene in inches is answered in inches, and one in mm in mm: every word of every output, by every command."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from demos import SCENES
from drawn import texts_of
from printed import Sheet, typed
from reports import COARSE
from terminal import sweep_here

from sweep.check.judge import judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.documented import documented_keys
from sweep.scene.read import read_scene
from sweep.show.files.sanding import write_scraper
from sweep.show.page.fields import usual_of
from sweep.show.page.model import page_model
from sweep.show.page.settings import settings_of
from sweep.show.pictures.captions import captions_of
from sweep.show.pictures.fence_plan import fence_picture
from sweep.show.pictures.load_plot import load_picture
from sweep.show.pictures.stills import solids_of, stills_picture
from sweep.show.pictures.surface_plot import surface_picture
from sweep.show.say.numbers.result import result_of
from sweep.show.say.report import Report
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.show.terminal.console import Terminal
from sweep.show.terminal.run import print_run
from sweep.tolerance import CHORD

IN_INCHES = """
title = "Corner cupboard, shelf edge"
[stock]
species = "cherry"
length = "32 in"
width = "3 1/2 in"
thickness = "7/8 in"
[blade]
diameter = "10 in"
kerf = "1/8 in"
teeth = 40
[saw]
speed = "3450 rpm"
motor = "1 hp"
lift_per_turn = "3/16 in"
table_depth = "27 in"
table_width = "40 in"
front_to_blade = "14 1/2 in"
left_to_blade = "16 1/4 in"
slots = ["-4 3/4 in", "5 1/2 in"]
throat_length = "6 in"
throat_width = "1/4 in"
[fence]
length = "24 in"
[passes]
heights = ["3/16 in", "5/16 in", "7/16 in", "9/16 in"]
feed_speed = "30 ft/min"
[setup]
fence_angle = "31 1/4 deg"
blade_height = "9/16 in"
offset = "1/8 in"
[target]
shape = "cove"
shoulders = "1/2 in"
wood_above = "5/16 in"
tolerance = "1/64 in"
[[finish]]
do = "rip"
at = "1 1/2 in"
keep = "left"
[[finish]]
do = "bevel"
spring = "38 deg"
wall_flat = "3/8 in"
[[finish]]
do = "round over"
edge = "table left"
radius = "1/8 in"
[[finish]]
do = "chamfer"
edge = "cove right"
size = "1/16 in"
[order]
rectangle = ["24 in", "14 in"]
boards = ["8 ft"]
board_width = "8 in"
[panel]
species = "cherry"
width = "14 in"
moisture = ["6 %", "12 %"]
moisture_at_fitting = "8 %"
lip = "1/8 in"
gap = "1/16 in"
"""
"""Invented: it holds whatever has a figure to be told, and raises many flags."""

METRIC = re.compile(r"(?<![\w'])(?:mm2?|cm3?|N|W|kW|m/min|m/s|kg/m3)(?!\w)")
INCHES = re.compile(r"(?<![\w'])(?:in2|in3|thou|lbf|hp|ft/min|lb/ft3)(?!\w)|\d (?:in|ft)(?!\w)|\d[\"″]")
"""Units of either notation, as whole words."""

FOREIGN = [pytest.param("in", METRIC, id="inches"), pytest.param("mm", INCHES, id="mm")]

ALLOWED = {
    "150 mm": "a bar on the sheet by which printers are checked in both notations",
    "100 mm": "the same on the scraper's template",
}


@cache
def report_of(folder: Path, notation: str) -> Report:
    """The report of a scene in a notation, cut coarsely; the scene's file lies in the folder."""
    path = folder / f"{notation}.toml"
    path.write_text(IN_INCHES if notation == "in" else (SCENES / "cornice-to-fit.toml").read_text())
    completed = complete(read_scene(path))
    return Report(judge(simulate(completed.scene, COARSE)), completed.scene.units, completed)


def words_in(data: Any) -> Iterator[str]:
    """Every text in plain data, keys left out: they are for programs."""
    if isinstance(data, str):
        if len(data) < 2000:  # longer ones are meshes
            yield re.sub(r"<style>.*?</style>|<[^>]*>", " ", data)
    elif isinstance(data, dict):
        for value in data.values():
            yield from words_in(value)
    elif isinstance(data, (list, tuple)):
        for value in data:
            yield from words_in(value)


def printed(report: Report) -> str:
    """What `run` prints."""
    text = io.StringIO()
    print_run(Terminal(file=text, width=80, soft_wrap=True, markup=False, emoji=False, highlight=False), report)
    return text.getvalue()


def said_by(report: Report, folder: Path) -> dict[str, list[str]]:
    """Everything that the outputs say of a report, by the output."""
    scene, units = report.scene, report.units
    write_sheet(folder / "sheet.pdf", report, paper_for(units), "shelf.toml")
    write_scraper(folder, scene, units, CHORD)
    blank = [[np.zeros((*batch.size[::-1], 3), np.uint8)] * len(batch.meshes) for batch in solids_of(report)]
    return {
        "sheet.pdf": [Sheet(folder / "sheet.pdf").text()],
        "scraper.svg": list(words_in((folder / "scraper.svg").read_text().split("</style>")[-1][-1999:])),
        "fence.png": texts_of(fence_picture(report).drawing),
        "load.png": texts_of(load_picture(report).drawing),
        "surface.png": texts_of(surface_picture(report).drawing),
        "removal.gif": [f"{one.height} {' '.join(one.flags)}" for one in captions_of(report)],
        "the terminal": printed(report).splitlines(),
        "result.json": [text for text in words_in(result_of(report).model_dump()) if " " in text],  # no lone units
        "the page": [*words_in(page_model(report)), *words_in(settings_of(scene, {}, units))],
        "passes.png": texts_of(stills_picture(report, blank).drawing),
    }


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Where the scenes lie and the outputs are left."""
    return tmp_path_factory.mktemp("notation")


@pytest.mark.parametrize(("notation", "foreign"), FOREIGN)
def test_no_output_says_a_word_of_the_other_notation(folder, notation, foreign):
    """Sheet, template, pictures, page, and the sentences among the numbers."""
    for output, texts in said_by(report_of(folder, notation), folder).items():
        assert any(text for text in texts), output
        assert not any(set(text) == {"─"} and len(text) > 80 for text in texts), output
        found = [text for text in texts if foreign.search(without_allowed(text))]
        assert found == [], output


def without_allowed(text: str) -> str:
    """The text without what both notations have, for a reason."""
    text = typed(text)
    for allowed in ALLOWED:
        text = text.replace(allowed, "")
    return text


@pytest.mark.parametrize(("notation", "foreign"), FOREIGN)
@pytest.mark.parametrize("command", ["solve", "fence", "cutlist", "match"])
def test_no_command_prints_a_word_of_the_other_notation(folder, notation, foreign, command):
    """Nor a table wider than 80 columns; what `run` prints is among the outputs."""
    report_of(folder, notation)
    scene = f"{notation}.toml"
    words = ["--blade", scene] if command == "match" else []
    of = SCENES / "measured-offcut.csv" if command == "match" else scene
    ended = sweep_here(command, of, *words, folder=folder)
    lines = ended.stdout.decode().splitlines()

    assert ended.returncode in (0, 1), ended.stderr
    assert [line for line in lines if foreign.search(line)] == []
    start = [k for k, line in enumerate(lines) if set(line) == {"─"}]
    assert start and max(len(lines[k]) for k in start) <= 80


@pytest.mark.parametrize(
    ("key", "wrong"),
    [("blade_height", "9 in"), ("wood_above", "1 in"), ("radius", "90 in"), ("length", "900 in"), ("motor", "900 hp")],
)
def test_a_refusal_is_told_in_the_notation_of_the_scene(folder, key, wrong):
    """Whatever is too much in it."""
    text = re.sub(rf"^{key} = .*$", f'{key} = "{wrong}"', IN_INCHES, flags=re.MULTILINE)
    (folder / "wrong.toml").write_text(text)
    ended = sweep_here("run", "wrong.toml", "--no-pictures", folder=folder)

    assert ended.returncode == 2
    assert not METRIC.search(ended.stderr.decode()), ended.stderr


def test_the_forms_tell_what_holds_where_nothing_is_written_in_either_notation():
    """Every key is asked for in both."""
    for key in documented_keys():
        assert not METRIC.search(usual_of(key, inches=True)), key.path
        assert not INCHES.search(usual_of(key, inches=False)), key.path


def test_the_page_shows_what_is_set_in_inches_as_fractions(folder):
    """As it is written, and as it is where nothing stands in the scene."""
    report = report_of(folder, "in")
    shown = {row["label"]: row["text"] for row in settings_of(report.scene, {}, report.units)}

    assert [shown[name] for name in ("blade height", "offset", "kerf")] == ["9/16 in", "1/8 in", "1/8 in"]
