"""Words are words: whatever a title or the name of a file holds, every output shows it and none obeys it."""

from __future__ import annotations

import csv
import html
import io
import json
import re
import zipfile
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from hostile import NO_WORDS, OBEYED, TOGETHER
from hypothesis import given
from hypothesis import strategies as st
from printed import Sheet, typed
from sent import held_in, packed_in
from terminal import sweep, sweep_here

from sweep.check.judge import judge
from sweep.cli import main
from sweep.cut.job import simulate
from sweep.errors import SceneError
from sweep.scene.read import scene_from
from sweep.show.files.folder import mesh_files, write_numbers
from sweep.show.files.meshes import write_meshes
from sweep.show.files.sanding import write_scraper
from sweep.show.page.page import removal_of, write_removal
from sweep.show.pictures.fence_plan import write_fence
from sweep.show.pictures.load_plot import write_loads
from sweep.show.pictures.surface_plot import write_surface
from sweep.show.say.report import Report
from sweep.show.sheet.pdf import write_sheet
from sweep.show.terminal.console import Terminal
from sweep.show.terminal.run import print_run
from sweep.tolerance import CHORD
from sweep.units import Units
from sweep.words import visible


def plain(title: str = "") -> dict:
    """Return one shallow pass in a short piece, under a title."""
    return {
        "title": title,
        "stock": {"length": "320 mm", "width": "90 mm", "thickness": "25 mm", "moisture": "8 %", "species": "beech"},
        "blade": {"diameter": "254 mm", "kerf": "3.2 mm", "teeth": 40},
        "saw": {"speed": "4000 rpm"},
        "setup": {"fence_angle": "30 deg", "blade_height": "3 mm"},
        "passes": {"heights": ["3 mm"], "feed_speed": "2 m/min"},
    }


@pytest.fixture(scope="module")
def outcome():
    """The plain job, cut once."""
    return judge(simulate(scene_from(plain())))


def titled(outcome, title: str):
    """Return the outcome of the same job under a title that a scene takes."""
    scene = outcome.job.scene.model_copy(update={"title": scene_from(plain(title)).title})
    return replace(outcome, job=replace(outcome.job, scene=scene))


def printed(outcome, encoding: str) -> str:
    """Return what a terminal of an encoding is sent."""
    sent = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    how = {"soft_wrap": True, "markup": False, "emoji": False, "highlight": False}
    terminal = Terminal(file=sent, force_terminal=True, width=400, **how)  # as wide as the longest title
    print_run(terminal, Report(outcome, Units()))
    sent.flush()
    return sent.buffer.getvalue().decode(encoding)


CONTROL = r"\x1b.[^a-zA-Z]*[a-zA-Z]"
"""What a terminal obeys."""


@pytest.fixture(scope="module")
def without_title(outcome):
    """What a terminal is told to do by the job without a title, by its encoding."""
    return {encoding: set(re.findall(CONTROL, printed(outcome, encoding))) for encoding in ("utf-8", "ascii")}


@pytest.mark.parametrize("title", OBEYED)
@pytest.mark.parametrize("encoding", ["utf-8", "ascii"])
def test_the_terminal_shows_a_title_as_it_stands(outcome, without_title, title, encoding):
    """On a terminal that has colours; letters that it lacks are question marks."""
    shown = printed(titled(outcome, title), encoding)

    on_a_line = re.sub(r"\x1b\[[0-9;]*m|\s", "", shown)  # a long title takes several
    wanted = f"{title}: fence at".encode(encoding, "replace").decode(encoding)
    assert re.sub(r"\s", "", wanted) in on_a_line
    assert set(re.findall(CONTROL, shown)) <= without_title[encoding]


@pytest.fixture(scope="module")
def untitled(outcome, tmp_path_factory):
    """What a run of it leaves, without a title."""
    folder = tmp_path_factory.mktemp("untitled")
    write_files(folder, outcome)
    return folder


def write_files(folder: Path, outcome) -> None:
    """Write all but the sheet, the page and the pictures."""
    write_numbers(folder, Report(outcome, Units()))
    write_meshes(folder, mesh_files(Report(outcome, Units()), CHORD))
    write_scraper(folder, outcome.job.scene, Units(), 0.05)


@pytest.mark.parametrize("title", OBEYED)
def test_the_files_of_a_run_hold_a_title_as_it_stands_or_not_at_all(outcome, untitled, title, tmp_path):
    """JSON and SVG are read by their own readers; CSV and meshes are what they are without a title."""
    write_files(tmp_path, titled(outcome, title))

    assert json.loads((tmp_path / "result.json").read_text("utf-8"))["title"] == title
    words = [text.text for text in ElementTree.parse(tmp_path / "scraper.svg").iter() if text.tag.endswith("text")]
    assert title[:60] in words
    for file in untitled.iterdir():
        if file.name not in ("result.json", "scraper.svg"):
            assert (tmp_path / file.name).read_bytes() == file.read_bytes()


def test_no_word_of_a_users_goes_into_a_spreadsheet_or_a_mesh(untitled):
    """Numbers, codes of ours and names of limits are all of it: a cell that is a formula cannot be written."""
    rows = list(csv.reader((untitled / "passes.csv").read_text().splitlines()))
    for cell in (cell for row in rows for cell in row):
        assert re.fullmatch(r"[a-z][a-z0-9_ -]*|-?[0-9.]+(e-?[0-9]+)?|", cell), cell
    assert not (untitled / "finished.stl").read_bytes()[:80].strip().lower().startswith(b"solid")
    with zipfile.ZipFile(untitled / "finished.3mf") as archive:
        model = archive.read(next(name for name in archive.namelist() if name.endswith(".model"))).decode()
    assert set(re.findall(r'(?<![A-Za-z:])name="([^"]*)"', model)) <= {"piece-1"}


@pytest.mark.parametrize("title", TOGETHER)
def test_the_sheet_prints_a_title_as_it_stands(outcome, title, tmp_path):
    """Nothing in it is typesetting; letters that its fonts lack are boxes."""
    write_sheet(tmp_path / "sheet.pdf", Report(titled(outcome, title), Units()), "a4", f"{title}.toml")
    words = re.sub(r"[\s\ufffe]", "", Sheet(tmp_path / "sheet.pdf").text())
    if title.isascii():
        assert re.sub(r"\s", "", typed(title)) in words


def around(path: Path) -> str:
    """Return the text of a page without its data, and without the title that its head and heading have."""
    text = path.read_text("utf-8")
    return re.sub(r"(<title>|<h1 id=\"title\">).*?</", r"\1</", text.replace(packed_in(text), ""), flags=re.DOTALL)


@pytest.fixture(scope="module")
def page_without(outcome, tmp_path_factory):
    """The page of the job without a title, but for its data."""
    path = tmp_path_factory.mktemp("page") / "without.html"
    write_removal(path, removal_of(Report(outcome, Units())))
    return around(path)


@pytest.mark.parametrize("title", TOGETHER)
def test_the_page_holds_a_title_as_text_in_its_data_its_head_and_its_heading(outcome, page_without, title, tmp_path):
    """The template is filled once: what looks like a place in it, in a title, is no place."""
    path = tmp_path / "with.html"
    write_removal(path, removal_of(Report(titled(outcome, title), Units())))
    assert held_in(path)["model"]["title"] == title
    text = path.read_text("utf-8")
    held = re.findall(r"<(?:title|h1 id=\"title\")>(.*?)</", text.replace(packed_in(text), ""), re.DOTALL)

    assert [html.unescape(one) for one in held] == [title, title]
    assert not any("<" in one for one in held)
    assert around(path) == page_without


@pytest.mark.parametrize("words", [text for text in NO_WORDS if "\ud83d" not in text])
@pytest.mark.parametrize("key", ["title", "stock.species", "blade.name"])
def test_a_scene_takes_no_character_that_is_obeyed(key, words):
    """The sentence names the key, the place and the character, and holds none of it."""
    data = plain()
    section, _, name = key.rpartition(".")
    (data[section] if section else data)[name] = f"oak {words}"
    with pytest.raises(SceneError, match=re.escape(key)) as wrong:
        scene_from(data)

    assert visible(str(wrong.value)) == str(wrong.value)
    assert "U+" in str(wrong.value)


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_what_is_visible_is_one_line_of_letters(text):
    """And what is made of letters alone stays as it is; a second time changes nothing."""
    shown = visible(text)

    assert len(shown.splitlines()) <= 1
    assert visible(shown) == shown
    assert all(letter.isprintable() for letter in visible(text, "ascii"))
    if text.isascii() and text.isprintable():
        assert shown == text


@pytest.mark.parametrize("name", [*sorted(set(NO_WORDS) - {"\x00", "\ud83d"}), "\udcff", *OBEYED], ids=ascii)
def test_the_name_of_a_file_is_made_visible_in_an_error(name):
    """Whatever a system lets it hold: one line, and nothing in it that a terminal obeys."""
    ended = CliRunner().invoke(main, ["fence", f"nowhere/{name}"])

    assert ended.exit_code == 2
    assert ended.stderr.endswith("\n")
    assert ended.stderr[:-1].isprintable()


@pytest.mark.parametrize(
    ("name", "run"), [("[] [oak] {{data}} \x1b[31mred\nforged: ok", sweep_here), ("=\udcff", sweep)]
)
def test_a_run_of_a_scene_with_such_a_name_into_a_folder_with_such_a_name(name, run, tmp_path):
    """It ends well, and says where it wrote; the sheet and the page are there."""
    scene = tmp_path / f"{name}.toml"
    lines = [f"title = '{OBEYED[0]}'"]
    for section, values in list(plain().items())[1:]:
        lines += [f"[{section}]", *(f"{key} = {json.dumps(value)}" for key, value in values.items())]
    scene.write_text("\n".join(lines), encoding="utf-8")
    ended = run("run", scene.name, "--no-pictures", "--out", f"out {name}", folder=tmp_path)

    assert ended.returncode in (0, 1), ended.stderr
    assert not re.search(rb"[\x00-\x09\x0b-\x1f\x7f]", ended.stdout)
    assert f"Written to out {visible(name)}".encode() in ended.stdout
    assert {"sheet.pdf", "removal.html"} <= {file.name for file in (tmp_path / f"out {name}").iterdir()}


@pytest.mark.usefixtures("coarse_pictures")
@pytest.mark.parametrize("write", [write_loads, write_fence, write_surface])
def test_pictures_show_any_letters_without_a_word_of_their_library(outcome, write, tmp_path):
    """A letter that no font has is a box; no formula starts, and no warning reaches the maker."""
    title = "".join(title[:12] for title in OBEYED)
    write(tmp_path / "picture.png", Report(titled(outcome, title[:200]), Units()))
    write(tmp_path / "picture.png", Report(titled(outcome, OBEYED[-2]), Units()))

    assert (tmp_path / "picture.png").stat().st_size > 1000
