"""The shop sheet: templates at 1:1, every figure that is set or read, nothing clipped, the same bytes twice."""

from __future__ import annotations

import math
import random

import numpy as np
import pypdf
import pytest
from demos import DEMOS, SCENES, cornice_with
from fuzz.scenes import whole_scene
from oracles import Cut
from printed import LINE, Sheet, cropped, level_lines, ticks, typed, upright_lines
from reports import COARSE, report_of
from terminal import sweep_here

from sweep.check.judge import Outcome, judge
from sweep.cut.job import simulate
from sweep.plan.complete import complete
from sweep.scene.read import read_scene, scene_from
from sweep.show.say.after_the_cove import after_the_cove
from sweep.show.say.cautions import cautions
from sweep.show.say.flags import sentence_of
from sweep.show.say.numbers.result import result_of
from sweep.show.say.order import boards_sentences, sold, time_sentence
from sweep.show.say.passes import pass_rows
from sweep.show.say.report import Report
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.units import Units

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""mm; ISO 216 and ANSI/ASME Y14.1, both from memory."""

FULL = {
    ("corner-cupboard-cornice", "mm", "a4"),
    ("corner-cupboard-cornice", "mm", "letter"),
    ("picture-rail", "in", "letter"),
    ("tilted-cove", "mm", "a4"),
}


def outcome_of(tables: dict) -> Outcome:
    """A scene's tables, cut and judged."""
    return judge(simulate(complete(scene_from(tables, SCENES)).scene, COARSE))


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    """A function that returns the outcome of a demo scene and its sheet, made once."""
    made = {}

    def sheet(name: str, style: str = "mm", paper: str = "a4") -> tuple[Outcome, Sheet]:
        if (name, style, paper) not in made:
            outcome, path = report_of(name).outcome, tmp_path_factory.mktemp("sheets") / "sheet.pdf"
            write_sheet(path, Report(outcome, Units(style)), paper, f"{name}.toml")
            made[name, style, paper] = outcome, Sheet(path)
        return made[name, style, paper]

    return sheet


@pytest.fixture
def printed(tmp_path):
    """A function that makes the sheet of a scene's tables."""

    def sheet(tables: dict, style: str = "mm", paper: str = "a4") -> Sheet:
        path = tmp_path / "sheet.pdf"
        write_sheet(path, Report(outcome_of(tables), Units(style)), paper, "job.toml")
        return Sheet(path)

    return sheet


@pytest.mark.parametrize(("name", "style", "paper"), sorted(FULL))
def test_the_end_of_the_block_is_drawn_at_full_size_with_the_cove_where_the_blade_cuts(sheets, name, style, paper):
    """Its four edges to 0.1 mm, and the curve between a blade larger and a blade smaller by 0.15 mm."""
    outcome, sheet = sheets(name, style, paper)
    scene = outcome.job.scene
    stock, setup = scene.stock, scene.setup
    left, foot = sheet.place(1, "End of a set-up block")
    drawn = cropped(sheet.pixels(1), left - 1, foot + 0.5, stock.width + 14, stock.thickness + 9)

    sides = [line[0] for line in upright_lines(drawn, 0.9 * stock.thickness)]
    faces = [line[0] for line in level_lines(drawn, 0.9 * stock.width)]
    assert np.diff(sides) == pytest.approx([stock.width], abs=0.1)
    assert np.diff(faces) == pytest.approx([stock.thickness], abs=0.1)

    touches = result_of(Report(outcome, Units())).model_dump()["fence"]["touches"]
    hand = 1 if setup.fence_side == "near" else -1
    bottoms = [hand * (stock.width / 2 - one["from_fence_mm"]) for one in touches if one["where"] == "bottom"]
    points = []
    for y in np.arange(-stock.width / 2 + 6, stock.width / 2 - 6, 0.5):
        if min(abs(y - bottom) for bottom in bottoms) < 6 or abs(y) < 0.4:
            continue  # crosses, numbers and the centreline stand there
        pixel = round((sides[0] + stock.width / 2 + y) * 20)
        column, y = drawn[:, pixel], (pixel + 0.5) / 20 - sides[0] - stock.width / 2
        room = column[round((faces[0] + 1) * 20) : round((faces[1] - 2.2) * 20)]
        dark = np.flatnonzero(room)
        if len(dark) and not room[-1]:
            top = dark[: np.argmax(np.diff(dark, append=len(room) + 9) > 6) + 1]  # not the flank below an overhang
            points.append((y, faces[1] - (faces[0] + 1) - (top.mean() + 0.5) / 20))
    cut = Cut(scene.tool.profile, setup.fence_angle, setup.blade_height, setup.blade_tilt, setup.offset)
    assert len(points) > 20
    assert cut.takes_from_section(points, grow=0.15).all()
    assert not cut.takes_from_section(points, grow=-0.15).any()


@pytest.mark.parametrize(("name", "style", "paper"), sorted(FULL))
def test_the_check_profile_is_as_wide_and_as_deep_as_the_cove(sheets, name, style, paper):
    """To 0.1 mm, with 20 mm or 3/4 in to hold it by; the width of a flat-topped upright blade from its closed form."""
    outcome, sheet = sheets(name, style, paper)
    scene, width = outcome.job.scene, outcome.job.sections[-1].width
    left, foot = sheet.place(1, "Check profile")
    card = cropped(sheet.pixels(1), left - 1, foot + 1.3, width + 5, scene.setup.blade_height + 22)
    sides = [line[0] for line in upright_lines(card, 15)]
    bottom = level_lines(card, 0.9 * width)[-1][0]
    top = np.flatnonzero(card.any(axis=1))[0] / 20 + LINE / 2

    if name == "corner-cupboard-cornice":
        angle, radius, height, kerf = math.radians(28), 127.0, 16.0, 3.2
        width = 2 * math.sin(angle) * math.sqrt(2 * radius * height - height**2) + kerf * math.cos(angle)
    assert np.diff(sides) == pytest.approx([width], abs=0.1)
    assert bottom - top == pytest.approx(scene.setup.blade_height + (19.05 if style == "in" else 20), abs=0.1)


@pytest.mark.parametrize(("name", "style", "paper"), sorted(FULL))
def test_the_bars_are_as_long_as_they_say_across_and_upright(sheets, name, style, paper):
    """Every tick to 0.1 mm, so that a printer that stretches either way is found out."""
    _, sheet = sheets(name, style, paper)
    dark = sheet.pixels(1)
    bars = [("150 mm", 150, 10)] + ([("6 in", 6 * 25.4, 25.4)] if style == "in" else [])
    for words, length, step in bars:
        left, foot = sheet.place(1, words)
        band = cropped(dark, 10, foot - 7, left + 10, 6)
        (level, start, end) = level_lines(band, 0.9 * length)[-1]
        marks = ticks(band, level, start, end)
        assert end - start == pytest.approx(length + LINE, abs=0.1)
        assert marks - marks[0] == pytest.approx(np.arange(0, length + 1, step), abs=0.1)
    words, length, step = ("50 mm", 50, 10) if style == "mm" else ("2 in", 50.8, 25.4)
    left, foot = max(sheet.places(1, words))  # at the right of the page
    band = cropped(dark, left - 1, foot - 40, 12, 80).T
    (level, start, end) = level_lines(band, 0.9 * length)[-1]
    marks = ticks(band, level, start, end)
    assert end - start == pytest.approx(length + LINE, abs=0.1)
    assert marks - marks[0] == pytest.approx(np.arange(0, length + 1, step), abs=0.1)


def test_stock_wider_than_the_page_is_turned_and_stays_at_full_size(printed):
    """220 mm on A4: two lines up the page, 22.5 mm apart, and the bar beside them."""
    sheet = printed(cornice_with(stock={"width": "220 mm"}))
    dark = np.rot90(sheet.pixels(sheet.pages - 1), -1)
    (upper, *ends), (lower, _, _) = level_lines(dark, 200)
    bars = [end - start for _, start, end in level_lines(dark, 149) if end - start < 152]

    assert np.ptp(ends) == pytest.approx(220 + LINE, abs=0.1)
    assert lower - upper == pytest.approx(22.5, abs=0.1)
    assert bars == pytest.approx([150 + LINE], abs=0.1)


def test_stock_larger_than_the_page_says_so_and_has_no_bar(printed):
    """400 mm: nothing to be mistaken for a template."""
    text = printed(cornice_with(stock={"width": "400 mm"})).text()

    assert "Not to scale" in text
    assert "nothing here can be marked or cut by" in text
    assert "150 mm" not in text
    assert "to cut out" not in text


@pytest.mark.parametrize(("name", "style", "paper"), [("cornice-to-fit", "mm", "a4"), ("picture-rail", "in", "letter")])
def test_the_sheet_holds_every_figure_that_a_maker_sets_or_reads(sheets, name, style, paper):
    """Set-up, passes, fence, check, cut list, mitre and panel are on it as in `result.json`, in the maker's units."""
    outcome, sheet = sheets(name, style, paper)
    units, result, text = Units(style), result_of(Report(outcome, Units())).model_dump(), sheet.text()
    setup, fence, cut, check = (result[key] for key in ("setup", "fence", "cut_list", "check"))
    lengths = [setup["blade_height_mm"], setup["offset_mm"], fence["strips"]["gap_mm"]]
    lengths += [touch["height_mm"] for touch in fence["touches"]]
    nearest = [abs(touch[key]) for touch in fence["touches"] for key in ("travel_mm", "from_fence_mm")]
    tapes = [fence["clear_of_blade_mm"], fence["other_edge_clear_of_blade_mm"]]
    tapes += [fence["throat_length_needed_mm"], fence["throat_width_needed_mm"]]
    tapes += [fence[key] for key in ("support_before_needed_mm", "support_after_needed_mm") if fence[key]]
    for line in (fence["face"], fence["other_edge"]):
        tapes += [line["difference_mm"]]
        for mark in line["marks"]:
            tapes += [abs(mark["x_mm"]), *map(abs, mark["from_slots_mm"])]
    for piece in cut["pieces"]:
        tapes += [piece["length_mm"], piece["inner_length_mm"], piece["rough_length_mm"]]
    for bar in cut["blanks"] + cut["boards"]:
        tapes += [strip["left_over_mm"] for strip in bar["strips"]]
    tapes += [cut[key] for key in ("blank_length_mm", "least_length_mm", "setup_block_length_mm")]
    boards = [cut["boards_length_mm"], *(board["length_mm"] for board in cut["boards"])]
    fine = [check["max_deviation_mm"], check["rms_deviation_mm"]]
    angles = [setup["fence_angle_deg"], setup["blade_tilt_deg"]]
    if result["mitre"]:
        lengths += [result["mitre"]["projection_mm"], result["mitre"]["drop_mm"]]
        angles += [result["mitre"]["mitre_deg"], result["mitre"]["bevel_deg"]]
    if result["panel"]:
        lengths += [result["panel"][key] for key in ("gap_needed_mm", "lip_needed_mm", "gap_left_mm", "lap_left_mm")]
    expected = [
        *map(units.length, lengths),
        *map(units.nearest, nearest),
        *(sold(board, units) for board in boards),
        *map(units.tape, tapes),
        *map(units.fine, fine),
        units.bound(check["tolerance_mm"]),
    ]
    expected += [f"{angle:.2f} deg" for angle in angles] + [units.rim_speed(1000 * setup["rim_speed_m_per_s"])]

    assert [shown for shown in expected if typed(shown) not in text] == []
    for number, row in enumerate(pass_rows(outcome, units), start=1):
        seconds = outcome.job.scene.stock.length / outcome.job.passes[number - 1].feed_speed
        cells = f"{row.height.bare} {row.rise.bare} {row.feed.bare} {seconds:.0f} {row.width.bare}"
        assert f" {number} {cells} " in text
    for piece in cut["pieces"]:
        assert piece["name"] in text


def test_the_sheet_says_what_the_cut_list_says(sheets):
    """What to buy and how long it takes, in the same words."""
    from sweep.plan.cutlist import cut_list

    outcome, sheet = sheets("picture-rail", "in", "letter")
    cut, units, text = cut_list(outcome.job), Units("in"), sheet.text()

    assert all(typed(said) in text for said in boards_sentences(outcome.job.scene, cut, units))
    assert typed(time_sentence(cut)) in text


def test_every_finishing_operation_is_told_in_its_order(sheets):
    """As settings of the saw, and that nobody has judged how the piece is held."""
    outcome, sheet = sheets("cornice-to-fit")
    text, scene = sheet.text(), outcome.job.scene
    steps = enumerate(after_the_cove(outcome.job.finishing, scene, Units()), start=1)
    places = [text.index(typed(f"{number}. {step}")) for number, step in steps]

    assert len(places) == len(scene.finish)
    assert places == sorted(places)
    assert "how the piece is held, are not judged here" in text


def test_turns_of_the_wheel_are_counted_from_the_table_in_the_parts_asked_for(sheets):
    """4 mm a turn, eighths: 2.5 mm is 5/8, 9.5 mm is 2 3/8, and the last pass adds a quarter."""
    outcome, sheet = sheets("leaning-cove")
    text = sheet.text()

    assert [one.height for one in outcome.job.passes] == pytest.approx([2.5, 5, 7.5, 9.5, 10.5])
    for row in ("1 2.50 5/8 5/8 2.50", "2 5.00 1 1/4 5/8 2.50", "4 9.50 2 3/8 1/2 2.00", "5 10.50 2 5/8 1/4 1.00"):
        assert f" {row} " in text


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_scene_has_a_sheet_with_nothing_in_its_margins_and_the_order_of_work_on_its_first_page(sheets, name):
    """Two pages, or three with much to tell; the letters keep 4 mm from the paper's edge, which any printer reaches.

    Every step and every caution is on the first page, in the scene's units, in their order.
    """
    style = read_scene(SCENES / f"{name}.toml").units.style
    outcome, sheet = sheets(name, style, paper_for(Units(style)))

    assert sheet.pages <= (3 if outcome.job.scene.order or outcome.job.scene.finish or len(outcome.flags) > 6 else 2)
    for page in range(sheet.pages):
        assert sheet.size(page) == pytest.approx(PAPERS[paper_for(Units(style))], abs=0.1)
        assert sheet.beyond(page, 4.0) == ""
        assert "not permission to cut" in sheet.text(page)

    told, first = Report(outcome, Units(style)), sheet.text(0)
    steps = [first.index(typed(f"{step.number} {step.name}. {step.words}")) for step in told.steps]
    assert steps == sorted(steps)
    for caution in cautions(told.scene, told.layout, told.units):
        assert typed(f"{caution.name} {caution.words}") in first


def test_the_cautions_are_on_the_page_that_is_carried_and_the_rules_on_the_next(sheets):
    """What replaces guard and riving knife, protection, hands, forcing, unplugging; and who comes first."""
    sheet = sheets("corner-cupboard-cornice")[1]
    text = sheet.text(0)

    for words in (
        "Guard and riving knife cannot be used as usual", "fences on both sides, featherboards", "push blocks",
        "Eye and ear protection on, dust", "Hands never over the blade. It is below the wood",
        "If it must be forced, stop.", "lower the blade", "Unplug to set.",
        "the makers' manuals, local rules and qualified instruction come first.",
    ):  # fmt: skip
        assert words in text
    for words in ("29 CFR 1910.213", "(a)(15) featherboards", "PUWER 1998 regulation 11"):
        assert words in sheet.text(1)


def test_flagged_passes_are_marked_where_they_are_set_and_told_in_full(sheets):
    """Every flag of the greedy scene, on the first page by name and then as a sentence."""
    outcome, sheet = sheets("too-greedy")
    first, text = sheet.text(0), sheet.text()

    assert f"! {len(outcome.flags)} warnings, on the next page" in first
    for flag in outcome.flags:
        assert flag.code.replace("-", " ") in first
        assert f"{typed(sentence_of(flag, Units()))}. ({flag.code})".replace(" ", "") in text.replace(" ", "")
    assert "More care with the settings does not mend the shape" in first


def test_sixty_passes_run_on_and_none_is_lost(printed):
    """Every height with its box in its turn; at most one page more."""
    heights = [f"{16 * number / 60:.4f} mm" for number in range(1, 61)]
    sheet = printed(cornice_with(passes={"heights": heights}))
    text = sheet.text()

    assert sheet.pages == 3
    for number in range(1, 61):
        assert f" {number} {16 * number / 60:.2f} 0.27 " in text
    assert [sheet.beyond(page, 4.0) for page in range(3)] == ["", "", ""]


def test_what_a_user_wrote_is_printed_as_it_stands(printed):
    """Markup of the typesetting library, quotes, Greek, Cyrillic, and a word longer than the page is wide."""
    title = """#strong[x] *bold* _it_ $a^2$ <tag> @ref \\ "q" 'Ωμέγα Ærø Шкаф' 5 deg #(1+1) """ + "W" * 60
    sheet = printed(cornice_with(title=title, stock={"species": "#emph[oak] $x$"}))
    text = sheet.text()

    assert title.rpartition(" ")[0] in text
    assert text.replace(" ", "").count("W" * 60) == 1
    assert "#emph[oak] $x$" in text
    assert sheet.beyond(0, 4.0) == ""


def test_a_scene_without_target_order_or_table_has_a_sheet(sheets):
    """It says that nothing was compared, and where the tape is laid instead of the table's edges."""
    _, sheet = sheets("stopped-cove")
    text = sheet.text()

    assert "No target in the scene" in text
    assert "250.0 mm before the blade's centre" in text
    assert "Take most care" not in text
    assert "Cut list" not in text
    assert "how far the leading end has gone past the blade's centre" in text
    assert " 1 2.50 2.50 2.20 8 300.00 24.09 " in text


@pytest.mark.parametrize(
    "changes",
    [
        {"setup": {"fence_angle": "62 deg", "fence_side": "far"}},
        {"setup": {"fence_angle": "90 deg"}, "stock": {"width": "150 mm"}},
        {"setup": {"fence_angle": "0.1 deg"}},
        {"setup": {"offset": "1500 mm"}},
        {"setup": {"blade_tilt": "-30 deg"}, "saw": {"lift_per_turn": "3.175 mm"}},
        {"stock": {"thickness": "180 mm"}},
    ],
)
def test_odd_set_ups_have_sheets_too(printed, changes):
    """A fence along or across, one beside the table, a blade that misses, thick stock: nothing out of the page."""
    sheet = printed(cornice_with(target=None, **changes), "in", "letter")

    assert [sheet.beyond(page, 4.0) for page in range(sheet.pages)] == [""] * sheet.pages


def test_the_same_scene_makes_the_same_bytes_and_asks_for_no_scaling(sheets, tmp_path):
    """No date, no chance; ISO 32000's ViewerPreferences say PrintScaling None."""
    _, before = sheets("cornice-to-fit")
    outcome = judge(simulate(read_scene(SCENES / "cornice-to-fit.toml"), COARSE))
    write_sheet(tmp_path / "again.pdf", Report(outcome, Units()), "a4", "cornice-to-fit.toml")
    read = pypdf.PdfReader(tmp_path / "again.pdf")

    assert (tmp_path / "again.pdf").read_bytes() == before.path.read_bytes()
    assert read.viewer_preferences.print_scaling == "/None"
    assert read.metadata.title == "Cornice to fit"


def test_the_paper_can_be_asked_for(tmp_path):
    """From the command line: A4 where units are inches."""
    words = "run", SCENES / "stopped-cove.toml", "--no-pictures", "--units", "in", "--paper", "a4"
    run = sweep_here(*words, folder=tmp_path)
    sheet = Sheet(tmp_path / "out" / "stopped-cove" / "sheet.pdf")

    assert run.returncode == 0, run.stderr.decode()
    assert sheet.size(0) == pytest.approx(PAPERS["a4"], abs=0.1)
    assert "stopped-cove.toml" in sheet.text(1)


def test_a_live_page_gives_the_sheet_of_its_own_settings(tmp_path):
    """The same as a run's, with what was changed on the page."""
    from sweep.live import answers
    from sweep.live.asked import PageRequest

    now = answers.opened(SCENES / "stopped-cove.toml", Units())
    asked = PageRequest(version=now.version, changes={"setup.fence_angle": "27 deg"}, units="mm")
    (tmp_path / "sheet.pdf").write_bytes(answers.file(now, asked, "sheet.pdf"))

    assert "27.00" in Sheet(tmp_path / "sheet.pdf").text(0)


@pytest.mark.parametrize("seed", [23, 58, 61, 91, 121, 308, 400])
def test_no_page_of_any_sheet_holds_a_line_or_two(seed, tmp_path):
    """Random scenes with orders, finishing, panels, flags, turned stock: ten lines a page, and none in its margins."""
    files: dict[str, bytes] = {}
    tables = whole_scene(random.Random(seed), files)
    for name, content in files.items():
        (tmp_path / name).write_bytes(content)
    scene = complete(scene_from(tables, tmp_path)).scene
    style, paper = ("in", "letter") if seed % 2 else ("mm", "a4")
    write_sheet(tmp_path / "sheet.pdf", Report(judge(simulate(scene, COARSE)), Units(style)), paper, "job.toml")
    sheet = Sheet(tmp_path / "sheet.pdf")

    for page in range(sheet.pages):
        assert sheet.lines(page) >= 10
        assert sheet.beyond(page, 4.0) == ""
