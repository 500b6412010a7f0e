"""Mistakes, each of one line, and the test that must find it: `python -m tests.mutants [NAME ...]`.

Every mistake is made in a copy of the project, never in the project itself; status 1 when a test passes all the same.
`tests/test_mutants.py` holds that each line is still there to be changed.
"""

# ruff: noqa: T201

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
COPIED = ("sweep", "tests", "scenes", "README.md", "pyproject.toml")
PATIENCE = 600
"""Seconds after which a test counts as having failed."""


@dataclass(frozen=True)
class Mutant:
    """One mistake: `right` becomes `wrong` in a file of `sweep`, and `test` (as pytest names it) must fail."""

    name: str
    file: str
    right: str
    wrong: str
    test: str


TEETH, WOODS = "tests/cut/test_teeth.py", "tests/outside/test_woods.py"
MILD, PANEL = "tests/check/test_may_exceed.py", "tests/check/test_panel.py"
MARKS = "tests/scene/test_marks.py"
ENDS, LOADS = "tests/cut/test_along.py", "tests/cut/test_forces.py"
SEVERAL, SETUPS = "tests/cut/test_several.py", "tests/check/test_setups.py"
SURFACE = "tests/cut/test_surface.py"
CARE = "tests/plan/test_accuracy.py"
LIMITS, PUSH, ROUNDS = "tests/check/test_limits.py", "tests/cut/test_push.py", "tests/shape/test_edges.py"
CLEAR, CHOICE = "tests/plan/test_several_clear.py", "tests/plan/test_several_choice.py"
RIVALS, AMONG = "tests/plan/test_rivals.py", "tests/shop/test_among.py"
DRAWER, WORK, SCREEN = "tests/shop/test_folder.py", "tests/shop/test_work.py", "tests/shop/test_screen.py"
ROWS = "tests/shop/test_catalogue.py"
KEEP, TRACE = "tests/cli/test_keep.py", "tests/trace/test_trace.py"
FENCES, CHAINED = "tests/plan/test_several_fences.py", "tests/scene/test_chained.py"
FOUND, WHOLE = "tests/plan/test_several.py", "tests/check/test_whole.py"
CORRECT = "tests/plan/test_correct.py"
SECTION, FEWEST = "tests/shape/test_section.py", "tests/plan/test_fewest.py"

LIVE, PICTURE = "tests/show/test_live_page.py", "tests/show/test_picture.py"
AT_SAW, LOST = "tests/show/test_at_saw_page.py", "tests/show/test_nothing_lost.py"
PARTS = "show/page/parts"

MUTANTS = (
    Mutant(
        "a cut wider than its wood", "shape/areas.py", "- _mean_beyond(right, from_y, to_y)", "- 0.0", SECTION,
    ),
    Mutant("passes too high", "plan/fewest.py", "if share_past <= most:", "if share_past <= 2 * most:", FEWEST),
    Mutant("seen upside down", f"{PARTS}/saw_view.js", "1 - ((y - box.top)", "-1 + ((y - box.top)", PICTURE),
    Mutant(
        "a text that stays", f"{PARTS}/forms.js", 'event.key === "Escape"', 'event.key === "Esc"',
        f"{LIVE}::test_refused_values_stay_in_their_fields_in_words_and_hold_up_nothing_else",
    ),
    Mutant(
        "never at rest", f"{PARTS}/play.js", "if (!this.playing) return;", "",
        f"{LIVE}::test_play_goes_on_by_itself_and_pauses",
    ),
    Mutant(
        "passes without marks", f"{PARTS}/table.js", '(flags.length ? "! " : "") + number', "number",
        f"{LIVE}::test_the_page_shows_the_run",
    ),
    Mutant(
        "no word of WebGL2", f"{PARTS}/painter.js", "gl.clearColor(", "gl.clearColour(",
        f"{LIVE}::test_the_page_shows_the_run",
    ),
    Mutant(
        "a rung upside down", f"{PARTS}/rungs.js", "(base - y) / scale", "(y - base) / scale",
        f"{LIVE}::test_a_rung_is_dragged_in_the_section_and_what_is_open_stays_open",
    ),
    Mutant(
        "a saw drawn once for all", f"{PARTS}/saw_view.js", "old?.told === told ? old", "old ? old",
        f"{LIVE}::test_one_way_to_set_it_lies_beside_the_one_that_is_moved",
    ),
    Mutant(
        "a text that was not done", f"{PARTS}/become.js", "entries()) update(one", "entries()) void (one",
        f"{LIVE}::test_a_field_takes_inches_and_fractions",
    ),
    Mutant(
        "a rung that goes with its drawing", f"{PARTS}/rungs.js",
        "this.height(event) / mm", "this.heights()(event) / mm",
        "tests/show/test_live_setups.py::test_rungs_of_several_set_ups_go_by_the_sixty_fourth_or_the_step_of_the_saw",
    ),
    Mutant(
        "what changed before the first look", f"{PARTS}/elsewhere.js", "before = this.beside;", "before = {};",
        "tests/live/test_shop_page.py::test_the_shop_is_made_and_changed_on_its_page_and_open_jobs_follow",
    ),
    Mutant(
        "a hold in passing", f"{PARTS}/hold.js", "LONG = 1000", "LONG = 10",
        f"{AT_SAW}::test_no_number_of_quick_spaces_gets_past_a_cut_and_holding_for_a_second_does",
    ),
    Mutant(
        "nothing is kept", f"{PARTS}/keeping.js", "sessionStorage.setItem(name, text)", "void text",
        f"{LOST}::test_a_reload_asks_first_and_keeps_every_change_every_refused_text_and_every_step_back",
    ),
    Mutant("suspects are forgotten", "shop/work.py", "suspects.append(task)", "pass", WORK),
    Mutant("bands slant the other way", "shop/off_curve.py", "slant = -change", "slant = change", SCREEN),
    Mutant("all points count", "shop/screen.py", "weights *= np.sqrt(still)", "still *= np.sqrt(still)", SCREEN),
    Mutant("worst saw first", "shop/answer.py", "return min((_on_one_saw", "return max((_on_one_saw", ROWS),
    Mutant("names are run", "show/shop/table.py", 'f"./{text}" if text.startswith(OBEYED) else text', "text", ROWS),
    Mutant("hollow stays upwards", "shop/profile.py", "line, low = -line, -high", "pass", DRAWER),
    Mutant("no shop above", "shop/folder.py", "shop_in(path.parent) or self.shop", "shop_in(path.parent)", DRAWER),
    Mutant("kept under no question", "shop/journal.py", "{task.full}\\n{task.profile}\\n{task.jobs}", "", ROWS),
    Mutant("mistaken twice as far", "plan/rivals.py", "-far / (2 * accuracy)", "-far / accuracy", RIVALS),
    Mutant("too high does not count", "plan/rivals.py", "and not self.too_high", "", RIVALS),
    Mutant("worst blade first", "plan/rivals.py", "one.match.scatter, one.number", "-one.match.scatter", RIVALS),
    Mutant("midway is finished", "shop/held.py", 'one.get("after_pass", passes) == passes', "True", AMONG),
    Mutant("never mirrored", "shop/among.py", "mirror(piece) if mirrored else piece", "piece", AMONG),
    Mutant("tolerance is all", "shop/among.py", "exactly) ** 2) >= CHANCE", "exactly) ** 2) >= -1", AMONG),
    Mutant(
        "shop is left out", "scene/keep.py", "with_shop(tables_of(text, path), shop_in(path.parent))",
        "tables_of(text, path)", KEEP,
    ),
    Mutant("nothing measured is kept", "scene/keep.py", ", []), *measured]", ", [])]", KEEP),
    Mutant(
        "half of coded light", "trace/outline.py", "((picture + 0.055) / 1.055) ** 2.4", "picture",
        f"{TRACE}::test_half_of_the_light_is_taken_in_linear_light",
    ),
    Mutant(
        "mirrored in the frame", "trace/face.py", "np.array([self.along[1], -self.along[0]])",
        "np.array([-self.along[1], self.along[0]])", TRACE,
    ),
    Mutant(
        "the picture's own mark ignored", "trace/child.py", "picture = ImageOps.exif_transpose(picture)",
        "picture = picture.copy()", f"{TRACE}::test_a_picture_of_any_kind_is_traced_alike",
    ),
    Mutant(
        "a JPEG's compression in no accuracy", "trace/face.py", "READ * seen.pixel, seen.compressed)",
        "READ * seen.pixel)", f"{TRACE}::test_the_accuracy_that_is_said_of_a_jpeg_has_in_it_what_compression_does",
    ),
    Mutant(
        "half a pixel off", "trace/child.py", "((found.outline + 0.5) * smaller - 0.5)", "(found.outline * smaller)",
        f"{TRACE}::test_a_large_picture_is_made_smaller_and_its_outline_is_not",
    ),
    Mutant(
        "narrow intervals", "plan/correct/found.py", "half = IN_95 * np", "half = 1.5 * np",
        f"{CORRECT}::test_intervals_hold_what_was_set_nineteen_times_of_twenty",
    ),
    Mutant(
        "an exact kerf", "plan/correct/found.py", "[kerf / errors.kerf]", "[1e3 * kerf / errors.kerf]",
        f"{CORRECT}::test_width_and_depth_tell_the_angle_as_the_closed_form_has_it",
    ),
    Mutant(
        "marks moved the other way", "plan/correct/moves.py", "self.mark.along_edge - self.now",
        "self.now - self.mark.along_edge", f"{CORRECT}::test_both_marks_moved_as_said_put_the_fence_where_it_belongs",
    ),
    Mutant(
        "the other mark alone", "plan/correct/moves.py", "reversed(stands)", "stands",
        f"{CORRECT}::test_both_marks_moved_as_said_put_the_fence_where_it_belongs",
    ),
    Mutant(
        "passes beyond the limits", "plan/correct/remaining.py", "if self._burden(low, high) <= WITHIN:", "if True:",
        f"{CORRECT}::test_a_pass_that_takes_too_much_is_parted",
    ),
    Mutant(
        "no pass at the same height", "plan/correct/remaining.py", "if start + SAME_HEIGHT < depth <=",
        "if False and depth <=",
        "tests/test_docs.py::test_the_readmes_correction_is_what_the_program_says",
    ),
    Mutant(
        "a cove widened beyond the limits", "plan/correct/remaining.py",
        "depth <= min(self._furthest(start), self.top)", "depth <= self.top",
        f"{CORRECT}::test_no_pass_beside_a_cove_of_another_fence_takes_more_than_the_limit_of_area",
    ),
    Mutant(
        "deeper than the target", "plan/correct/reach.py", "setup.offset, setup.blade_height)[0])",
        "setup.offset, setup.blade_height)[0]) + 9",
        f"{CORRECT}::test_no_pass_is_deeper_than_the_target_where_the_set_up_is",
    ),
    Mutant(
        "a phone that mirrors", "plan/correct/table.py", "1 if near else -1", "-1 if near else 1",
        f"{CORRECT}::test_the_phones_table_says_what_the_command_says",
    ),
    Mutant(
        "mirrored end for end", "shape/lying.py",
        "return Lying(((-a, -b) if end_for_end else (a, b), (c, d))", "return Lying(((a, b), (c, d))", SEVERAL,
    ),
    Mutant(
        "planed stock again", "cut/passes.py", "wood = wood_section(scene.stock, chord)",
        "wood = section.stock_section(scene.stock.width, scene.stock.thickness)", SEVERAL,
    ),
    Mutant("teeth in what is gone", "cut/engagement.py", "if stock.blank is None:", "if True:", SEVERAL),
    Mutant("a point is in twice", "cut/in_wood.py", "(first <= 0.0) & (last > 0.0)", "(first <= 0.0)", SEVERAL),
    Mutant("smallest goes on", "cut/blank.py", "most = max(map(section.area", "most = min(map(section.area", SETUPS),
    Mutant("step wrong way up", "cut/settings.py", "not from_left, (up, across)", "from_left, (up, across)", SETUPS),
    Mutant(
        "strip on the free side", "check/setups.py",
        'setup.fence_side == "near")', 'setup.fence_side == "far")', SETUPS,
    ),
    Mutant("flats of the board", "shape/resting.py", "min(end, middle) - start", "end - start", SETUPS),
    Mutant(
        "rise from the table", "cut/passes.py",
        "height - max(below[number - 1], met)", "height - below[number - 1]", SETUPS,
    ),
    Mutant("clear at corners only", "plan/several/family.py", "for knot in knots:", "for knot in knots[:0]:", CLEAR),
    Mutant("the other flank", "plan/several/family.py", "lean * laid[..., 1]) *", "-lean * laid[..., 1]) *", CLEAR),
    Mutant("left out too soon", "plan/several/proof.py", "rest + priced +", "priced +", CHOICE),
    Mutant("a face that was cut away", "plan/several/as_setups.py", "/ 2 + lean * low", "/ 2", FOUND),
    Mutant("nearly alike is out", "plan/several/proof.py", "with_it > worth + 1e-6", "with_it > worth + 0.05", CHOICE),
    Mutant("fence where it pulls off", "plan/several/fences.py", "(-force for", "(force for", FENCES),
    Mutant("step too wide", "cut/rips.py", "across - tool.kerf / 2", "across + tool.kerf / 2", SETUPS),
    Mutant("the larger part stays", "cut/blank.py", "falls is None or not", "falls is None or", SETUPS),
    Mutant("walls are bottoms", "cut/kerf_marks.py", "<= ALONG_BLADE", "<= -ALONG_BLADE", SURFACE),
    Mutant("three ends are one line", "scene/drawing/chained.py", "len(at[end]) == 2", "len(at[end]) >= 2", CHAINED),
    Mutant("order by time alone", "plan/several/order.py", "HOUR_PER_MM * short", "0 * short", FOUND),
    Mutant("left for cut", "check/whole.py", "minus(kept, wood), outline", "minus(wood, kept), outline", WHOLE),
    Mutant("best pass at the fence", "check/limits.py", "steady = min((", "steady = max((", MILD),
    Mutant("no double bite", "cut/engagement.py", "return 1 if self.hand is None else 2", "return 1", TEETH),
    Mutant(
        "side edge of one hand", "cut/engagement.py",
        "both = max(0.0, r - blade.kerf * math.tan(blade.bevel))", "both = 0.0", TEETH,
    ),
    Mutant("emptier gullet", "cut/load.py", "2 * np.max(hands", "2 * np.min(hands", TEETH),
    Mutant("mean over every tooth", "cut/load.py", "edge.length / edge.bites,", "edge.length,", TEETH),
    Mutant("at any travel", "cut/engagement.py", "(stations[0] - stations[1])[rows]", "0 * stations[0][rows]", ENDS),
    Mutant("normal turned in", "cut/forces.py", "upward += along * sin + cos", "upward += cos - along * sin", LOADS),
    Mutant("normal without the arbor", "cut/forces.py", "aside -= outward", "aside += outward", LOADS),
    Mutant("radians for turns", "cut/passes.py", "(scene.saw.speed / (2 * math.pi) *", "(scene.saw.speed *", TEETH),
    Mutant(
        "wood by its last word", "cut/wood_table.py",
        "_BY_NAME.get(_plain(species))", '_BY_NAME.get(" ".join(_plain(species).split()[-1:]))', WOODS,
    ),
    Mutant("dry density", "cut/wood.py", "return 1120 * self.gravity", "return 1000 * self.gravity", WOODS),
    Mutant("constants without water", "cut/wood.py", "(k * 1.12 * gravity for", "(k * gravity for", WOODS),
    Mutant(
        "wobble along the radius", "cut/surface.py", "wobble * marks.axial", "wobble * marks.radial",
        f"{SURFACE}::test_a_rim_that_wobbles_leaves_no_more_than_the_rule_says",
    ),
    Mutant(
        "marks of every tooth", "cut/surface.py", "spacing=turn if proud[top] > equal[top] else step", "spacing=step",
        f"{SURFACE}::test_with_run_out_marks_repeat_once_a_turn",
    ),
    Mutant("usual for the far end", "check/may_exceed.py", "load.high.power, gives", "load.usual.power, gives", MILD),
    Mutant("mildest pass", "check/may_exceed.py", "value > worst[flag.code][0]", "value < worst[flag.code][0]", MILD),
    Mutant("said twice", "check/may_exceed.py", "if value > limit and code not in flagged", "if value > limit", MILD),
    Mutant("thrust that pulls", "cut/load.py", "replace(USUAL, thrust=0.0)", "USUAL", MILD),
    Mutant(
        "plate of theory", "cut/plate.py", "MEASURED = 60 / 81", "MEASURED = 1.0", "tests/outside/test_plate.py",
    ),
    Mutant("plate by its square", "cut/plate.py", "thickness**3", "thickness**2", "tests/outside/test_plate.py"),
    Mutant("both edges move all of it", "check/panel.py", '0.5 if panel.fixed == "centre" else 1.0', "1.0", PANEL),
    Mutant("panel without cover", "check/panel.py", "COVER = 1.0", "COVER = 0.0", PANEL),
    Mutant(
        "straight line from elsewhere", "cut/movement.py", "- wet + first)", "- wet - first)",
        "tests/outside/test_movement.py",
    ),
    Mutant(
        "second fence in the blade", "cut/fence.py", "self.clear_opposite >= -FINE_CHORD", "self.clear >= -FINE_CHORD",
        "tests/show/test_cautions.py",
    ),
    Mutant("wider shoulder alone", "check/stock.py", "sum(shoulders) < limits", "max(shoulders) < limits", LIMITS),
    Mutant("one tooth too many", "check/passes.py", "math.floor(scene.blade", "1 + math.floor(scene.blade", LIMITS),
    Mutant("lift that presses", "cut/push.py", "+ HOLD - lift)", "+ HOLD + lift)", PUSH),
    Mutant("idle featherboards", "cut/push.py", "on_table + on_fence + 2 * HOLD", "on_table + on_fence", PUSH),
    Mutant("rounds that may not meet", "shape/rounds.py", "(SAME_POINT if runs", "(-SAME_POINT if runs", ROUNDS),
    Mutant("straight round the bend", "shape/rounds.py", "np.abs(turned) > _STRAIGHT", "np.abs(turned) > 0.5", ROUNDS),
    Mutant("points in any order", "scene/line.py", "if falls:", "if False:", "tests/scene/test_read.py"),
    Mutant("middle only", "check/may_exceed.py", "min(steady + ends)", "min(steady)", MILD),
    Mutant(
        "defaults over what is written", "scene/defaults.py", "defaults | table", "table | defaults",
        "tests/scene/test_defaults.py",
    ),
    Mutant("shoulders flagged for a digit", "check/stock.py", "limits.shoulder - AS_MUCH", "limits.shoulder", MARKS),
    Mutant("one shoulder", "scene/target.py", "2 * (self.shoulders or 0.0)", "(self.shoulders or 0.0)", MARKS),
    Mutant(
        "force in newtons", "units.py", "self._rounded(newtons, FORCE, 0 if", "Units()._rounded(newtons, FORCE, 0 if",
        "tests/show/test_flags.py",
    ),
    Mutant(
        "care of the place", "plan/accuracy.py", "gaps = largest_about(_moved(tried, middle + moved_in), sampled",
        "gaps = largest_about(tried, sampled", f"{CARE}::test_a_cove_beside_its_place_has_its_shape_all_the_same",
    ),
    Mutant(
        "ends of pieces stand still", "plan/closeness.py", "np.maximum(ends[1:], ends[:-1])", "0",
        "tests/plan/test_closeness.py::test_distances_both_ways_are_shapelys",
    ),
    Mutant(
        "one mark of two", "plan/setting_errors.py",
        "math.hypot(moved_first, moved_last) / apart", "moved_last / apart",
        f"{CARE}::test_a_fence_set_by_tape_errs_as_two_marks_wrong_by_chance_make_it",
    ),
    Mutant(
        "one sawn edge", "plan/buying.py", "2 * order.board_edge", "order.board_edge",
        "tests/plan/test_buying.py::test_a_strip_is_ripped_with_what_is_planed_off_both_edges",
    ),
    Mutant(
        "more of shorter blanks", "plan/cutlist.py", "found if len(same.bars) <= blanks else None", "found",
        "tests/plan/test_cutlist.py::test_boards_are_bought_by_width_and_shorter_blanks_by_what_they_save",
    ),
)  # fmt: skip


def main(names: list[str]) -> int:
    """Try the mistakes named, or all; 1 when a test passes all the same."""
    unknown = sorted(set(names) - {one.name for one in MUTANTS})
    if unknown:
        print(f"there is no mutant named {unknown[0]!r}")
        return 2
    lived = [one for one in MUTANTS if (not names or one.name in names) and not _is_found(one)]
    return 1 if lived else 0


def _is_found(one: Mutant) -> bool:
    with tempfile.TemporaryDirectory(prefix="sweep-mutant-") as folder:
        place = Path(folder)
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, place / name, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(source, place / name)
        changed = place / "sweep" / one.file
        changed.write_text(changed.read_text(encoding="utf-8").replace(one.right, one.wrong), encoding="utf-8")
        command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", one.test]
        env = os.environ | {"PYTHONPATH": str(place), "PYTHONDONTWRITEBYTECODE": "1"}
        try:
            ended = subprocess.run(command, cwd=place, env=env, capture_output=True, timeout=PATIENCE).returncode
        except subprocess.TimeoutExpired:
            ended = 1
    # 1: a test failed; anything else, as a file that cannot be read, is a fault of the list
    print(f"{'found' if ended == 1 else f'LIVES ({ended})'}: {one.name}", flush=True)
    return ended == 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
