"""What each flag says: its figure, its limit and what to do, in the units that are asked for."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from sweep.check.flag import CODES, Flag
from sweep.figure import count, force, length, named, power, share, speed, volume
from sweep.scene.documented import documented_keys
from sweep.show.say.flags import flag_line, flag_words, sentence_of
from sweep.units import ANGLE, AREA, COUNT, FORCE, LENGTH, POWER, ROTATION, SHARE, SPEED, Units

README = (Path(__file__).parents[2] / "README.md").read_text()

PUSHED = named(low=force(60.0), high=force(200.0), teeth=force(105.0), friction=force(45.0))

SAYS = [
    (
        Flag("rise-large", 1, 6.35, 3.175, LENGTH, figures=named(passes=count(2))),
        "it rises 6.35 mm, more than 3.17 mm: take it in 2 passes",
        "it rises 1/4 in, more than 1/8 in: take it in 2 passes",
    ),
    (
        Flag("area-large", 1, 150.0, 130.0, AREA, figures=named(passes=count(2))),
        "it takes 150.0 mm2 from the section, more than 130.0 mm2: take it in 2 passes",
        "it takes 0.233 in2 from the section, more than 0.202 in2: take it in 2 passes",
    ),
    (
        Flag("chip-thick", 1, 0.2, 0.15, LENGTH, figures=named(feed_speed=speed(25.4))),
        "shavings are up to 0.200 mm thick, more than 0.150 mm: feed at 1.52 m/min or slower",
        "shavings are up to 7.87 thou thick, more than 5.91 thou: feed at 5.0 ft/min or slower",
    ),
    (
        Flag("edge-rubs", 1, 0.004, 0.005, LENGTH, figures=named(teeth=count(32), feed_speed=speed(50.8))),
        "shavings are at most 0.004 mm thick, less than 0.005 mm: the edge rubs and burns; use a blade with fewer "
        "teeth (32 or fewer), or take more in a pass; only where neither serves feed at 3.05 m/min or faster",
        "shavings are at most 0.16 thou thick, less than 0.20 thou: the edge rubs and burns; use a blade with fewer "
        "teeth (32 or fewer), or take more in a pass; only where neither serves feed at 10.0 ft/min or faster",
    ),
    (
        Flag("gullet-full", 1, 0.84, 0.7, SHARE, figures=named(feed_speed=speed(25.4))),
        "chips fill 84 % of a gullet's usable room, more than 70 %: feed at 1.52 m/min or slower, or use a blade with "
        "fewer, deeper gullets",
        "chips fill 84 % of a gullet's usable room, more than 70 %: feed at 5.0 ft/min or slower, or use a blade with "
        "fewer, deeper gullets",
    ),
    (
        Flag(
            "power-high",
            1,
            1300.0,
            1105.0,
            POWER,
            figures=named(low=power(700.0), high=power(2100.0), passes=count(2), feed_speed=speed(25.4)),
        ),
        "it takes about 1300 (700 to 2100) W at the arbor (an estimate), more than the 1105 W that the motor gives it: "
        "feed at 1.52 m/min or slower, or take it in 2 passes",
        "it takes about 1.7 (0.94 to 2.8) hp at the arbor (an estimate), more than the 1.48 hp that the motor gives "
        "it: feed at 5.0 ft/min or slower, or take it in 2 passes",
    ),
    (
        Flag("push-hard", 1, 150.0, 130.0, FORCE, figures=PUSHED + named(passes=count(2))),
        "it takes about 150 (60 to 200) N to push (estimates: 105 N on the teeth, 45 N of friction), more than "
        "130 N: take it in 2 passes",
        "it takes about 34 (13 to 45) lbf to push (estimates: 23.6 lbf on the teeth, 10.1 lbf of friction), more "
        "than 29.2 lbf: take it in 2 passes",
    ),
    (
        Flag("push-hard", 1, 150.0, 130.0, FORCE, figures=PUSHED),
        "it takes about 150 (60 to 200) N to push (estimates: 105 N on the teeth, 45 N of friction), more than "
        "130 N: cut shorter stock, wax the table, ease the featherboards",
        "it takes about 34 (13 to 45) lbf to push (estimates: 23.6 lbf on the teeth, 10.1 lbf of friction), more "
        "than 29.2 lbf: cut shorter stock, wax the table, ease the featherboards",
    ),
    (
        Flag(
            "plate-bends",
            1,
            0.4,
            0.3,
            LENGTH,
            figures=named(side_force=force(80.0), low=force(40.0), high=force(110.0), passes=count(2)),
        ),
        "the side load of about 80 (40 to 110) N (an estimate) bends the plate by 0.400 mm, more than 0.300 mm: take "
        "it in 2 passes, or use a thicker plate, larger collars or a smaller fence angle",
        "the side load of about 18 (9.0 to 25) lbf (an estimate) bends the plate by 15.75 thou, more than 11.81 thou: "
        "take it in 2 passes, or use a thicker plate, larger collars or a smaller fence angle",
    ),
    (
        Flag("last-pass-heavy", 2, 3.175, 1.5875, LENGTH),
        "the last pass rises 3.17 mm, no less than the lightest before it (1.59 mm): make it the lightest, and feed it "
        "slowly",
        "the last pass rises 1/8 in, no less than the lightest before it (1/16 in): make it the lightest, and feed it "
        "slowly",
    ),
    (
        Flag("single-pass", 1, 3.175, 0.79375, LENGTH),
        "the whole cove is taken in one pass that rises 3.17 mm, with nothing lower to try the set-up by: take it in "
        "at least 2, the last one light (0.79 mm or less)",
        "the whole cove is taken in one pass that rises 1/8 in, with nothing lower to try the set-up by: take it in at "
        "least 2, the last one light (1/32 in or less)",
    ),
    (
        Flag("off-the-fence", None, -8.0, -0.5, FORCE, "far"),
        "the blade pulls the work off the fence with about 8 N (an estimate), and this fence alone is not safe: clamp "
        "a second one on the operator's side of the stock, or set the fence on the other side of the blade",
        "the blade pulls the work off the fence with about 1.8 lbf (an estimate), and this fence alone is not safe: "
        "clamp a second one on the operator's side of the stock, or set the fence on the other side of the blade",
    ),
    (
        Flag("fence-steep", None, math.radians(60), math.radians(45), ANGLE),
        "the fence stands at 60.00 deg to the blade, more than 45 deg, so the stock goes into the blade's side rather "
        "than along it and the plate is pushed aside: take a smaller angle, with a larger blade where the cove must "
        "stay as wide",
        "the fence stands at 60.00 deg to the blade, more than 45 deg, so the stock goes into the blade's side rather "
        "than along it and the plate is pushed aside: take a smaller angle, with a larger blade where the cove must "
        "stay as wide",
    ),
    (
        Flag("fence-cut", None, 3.175, 0.0, LENGTH),
        "the blade reaches 3.17 mm into the fence: set the fence on the stock's other side where the blade keeps clear "
        "of it, or cut wider stock and rip the rest off afterwards",
        "the blade reaches 1/8 in into the fence: set the fence on the stock's other side where the blade keeps clear "
        "of it, or cut wider stock and rip the rest off afterwards",
    ),
    (
        Flag("off-the-fence", None, -8.0, -0.5, FORCE, "near", named(second_fence_cut=length(19.05))),
        "the blade pulls the work off the fence with about 8 N (an estimate), and it would cut a second fence by 19.05 "
        "mm: nothing holds the work safely like this; set the fence on the other side of the blade, or cut the cove in "
        "wider stock",
        "the blade pulls the work off the fence with about 1.8 lbf (an estimate), and it would cut a second fence by "
        "3/4 in: nothing holds the work safely like this; set the fence on the other side of the blade, or cut the "
        "cove in wider stock",
    ),
    (
        Flag("second-fence-cut", None, 19.05, 0.0, LENGTH),
        "the blade reaches 19.05 mm beyond the stock's other edge: set no second fence there and keep featherboards "
        "clear of the blade, or cut the cove in wider stock and rip the rest off afterwards",
        "the blade reaches 3/4 in beyond the stock's other edge: set no second fence there and keep featherboards "
        "clear of the blade, or cut the cove in wider stock and rip the rest off afterwards",
    ),
    (
        Flag("fence-off-table", None, 25.4, 0.0, LENGTH, "near"),
        "beside the cut 25.40 mm of the fence has no table under it: set it on the far side of the blade, or fix a "
        "board level with the table there",
        "beside the cut 1 in of the fence has no table under it: set it on the far side of the blade, or fix a board "
        "level with the table there",
    ),
    (
        Flag("fence-short", None, 508.0, 762.0, LENGTH),
        "a fence 508.00 mm long cannot be clamped at both edges of the table: take one at least 762.00 mm long",
        "a fence 20 in long cannot be clamped at both edges of the table: take one at least 30 in long",
    ),
    (
        Flag("throat-tight", None, 101.6, 152.4, LENGTH, "long", named(throat_thickness=length(12.7))),
        "the opening of the throat plate is 101.60 mm long, and the blade needs 152.40 mm through a plate 12.70 mm "
        "thick: fit a plate with a larger opening before the blade is raised",
        "the opening of the throat plate is 4 in long, and the blade needs 6 in through a plate 1/2 in thick: fit a "
        "plate with a larger opening before the blade is raised",
    ),
    (
        Flag("stock-unsupported", None, 304.8, 0.0, LENGTH, "after"),
        "as a pass ends the middle of the stock is 304.80 mm beyond the table's edge, and supports reach 0.00 mm: "
        "set stands or rollers further out (saw.support_after), or cut shorter stock",
        "as a pass ends the middle of the stock is 12 in beyond the table's edge, and supports reach 0 in: set "
        "stands or rollers further out (saw.support_after), or cut shorter stock",
    ),
    (
        Flag("wood-above-thin", None, 3.175, 6.35, LENGTH),
        "3.17 mm of wood is left above the cove, less than 6.35 mm: take thicker stock, or a shallower cove",
        "1/8 in of wood is left above the cove, less than 1/4 in: take thicker stock, or a shallower cove",
    ),
    (
        Flag("shoulder-narrow", None, 3.175, 6.35, LENGTH, "left"),
        "3.17 mm of flat is left to ride on the table on the left (looking along the feed), less than 6.35 mm: cut the "
        "cove in wider stock and rip the rest off afterwards",
        "1/8 in of flat is left to ride on the table on the left (looking along the feed), less than 1/4 in: cut the "
        "cove in wider stock and rip the rest off afterwards",
    ),
    (
        Flag("contact-small", None, 12.7, 19.05, LENGTH),
        "in all 12.70 mm of flat is left to ride on the table beside the cove, less than 19.05 mm: the stock can rock; "
        "cut the cove on a wider board and rip it to width afterwards",
        "in all 1/2 in of flat is left to ride on the table beside the cove, less than 3/4 in: the stock can rock; cut "
        "the cove on a wider board and rip it to width afterwards",
    ),
    (
        Flag("stock-narrow", None, 25.4, 50.8, LENGTH),
        "the stock is 25.40 mm wide, too narrow to be held over the blade under 50.80 mm: cut the cove on a wider "
        "board and rip it to width afterwards",
        "the stock is 1 in wide, too narrow to be held over the blade under 2 in: cut the cove on a wider board and "
        "rip it to width afterwards",
    ),
    (
        Flag("stock-thin", None, 12.7, 15.875, LENGTH),
        "the stock is 12.70 mm thick, too thin to be held over the blade under 15.88 mm: cut the cove in a thicker "
        "board and take the back down afterwards",
        "the stock is 1/2 in thick, too thin to be held over the blade under 5/8 in: cut the cove in a thicker board "
        "and take the back down afterwards",
    ),
    (
        Flag("stock-missed", None, 6.35, 0.0, LENGTH),
        "the blade passes 6.35 mm beside the stock and cuts nothing: mend setup.offset, or the stock's width",
        "the blade passes 1/4 in beside the stock and cuts nothing: mend setup.offset, or the stock's width",
    ),
    (
        Flag("stock-missed", None, 6.35, 0.0, LENGTH, "at"),
        "the blade passes 6.35 mm beside the stock and cuts nothing: move it, or make it before the set-up that took "
        "the wood",
        "the blade passes 1/4 in beside the stock and cuts nothing: move it, or make it before the set-up that took "
        "the wood",
    ),
    (
        Flag("no-flat", None, 0.0, 6.35, LENGTH, "left"),
        "nothing flat is left to ride on the table on the left of the cut (looking along the feed): make this set-up "
        "before the one that takes it, leave runners on both edges and rip them off last, or screw the stock to a "
        "carrier",
        "nothing flat is left to ride on the table on the left of the cut (looking along the feed): make this set-up "
        "before the one that takes it, leave runners on both edges and rip them off last, or screw the stock to a "
        "carrier",
    ),
    (
        Flag("strip-falls", None, 3.175, 25.4, LENGTH, figures=named(width=length(3.175), height=length(12.7))),
        "a strip 3.17 mm wide and 12.70 mm high falls off beside the turning blade, which can catch and throw it: "
        "stand aside, let the saw come to rest before it is taken away, or turn the strip into shavings by more passes",
        "a strip 1/8 in wide and 1/2 in high falls off beside the turning blade, which can catch and throw it: "
        "stand aside, let the saw come to rest before it is taken away, or turn the strip into shavings by more passes",
    ),
    (
        Flag("strip-trapped", None, 3.175, 25.4, LENGTH, figures=named(width=length(3.175), height=length(12.7))),
        "a strip 3.17 mm wide and 12.70 mm high falls off between the blade and the fence, where it is pinched and "
        "thrown back: set the fence on the other side of the stock, or turn the stock end for end",
        "a strip 1/8 in wide and 1/2 in high falls off between the blade and the fence, where it is pinched and "
        "thrown back: set the fence on the other side of the stock, or turn the stock end for end",
    ),
    (
        Flag("stock-short", None, 254.0, 304.8, LENGTH),
        "the stock is 254.00 mm long, too short to pass safely under 304.80 mm: cut the cove on a longer piece and "
        "crosscut afterwards",
        "the stock is 10 in long, too short to pass safely under 12 in: cut the cove on a longer piece and crosscut "
        "afterwards",
    ),
    (
        Flag("rim-fast", None, math.radians(36000.0), math.radians(30000.0), ROTATION),
        "the saw turns at 6000 rpm and the blade is marked for 5000 rpm: do not run this blade on this saw",
        "the saw turns at 6000 rpm and the blade is marked for 5000 rpm: do not run this blade on this saw",
    ),
    (
        Flag("rim-fast", None, 110e3, 100e3, SPEED),
        "the rim runs at 110 m/s, above 100 m/s: use a smaller blade, or a slower saw, and look up what the blade is "
        "marked for",
        "the rim runs at 21700 ft/min, above 19700 ft/min: use a smaller blade, or a slower saw, and look up what the "
        "blade is marked for",
    ),
    (
        Flag("piece-freed", None, 2, 1, COUNT, figures=named(smallest=volume(16387.064))),
        "the cut leaves 2 separate pieces, the smallest of 16.4 cm3, which the blade can throw: move the cut, or leave "
        "a strip that holds them together",
        "the cut leaves 2 separate pieces, the smallest of 1.00 in3, which the blade can throw: move the cut, or leave "
        "a strip that holds them together",
    ),
    (
        Flag("moisture-unknown", None, 0.3, 0.15, SHARE),
        "at 30 % moisture forces and power are not known: their constants are for about 12 %, and are shown unchanged; "
        "dry the wood, or trust the figures less",
        "at 30 % moisture forces and power are not known: their constants are for about 12 %, and are shown unchanged; "
        "dry the wood, or trust the figures less",
    ),
    (
        Flag("gap-small", None, 3.175, 6.35, LENGTH, figures=named(moisture=share(0.125))),
        "at 12.5 % moisture the panel's edge moves out 6.35 mm and the gap behind it is 3.17 mm: it would burst the "
        "frame or split; leave more room",
        "at 12.5 % moisture the panel's edge moves out 1/4 in and the gap behind it is 1/8 in: it would burst the "
        "frame or split; leave more room",
    ),
    (
        Flag("lip-short", None, 3.175, 6.35, LENGTH, figures=named(moisture=share(0.06), drawn_back=length(5.35))),
        "at 6 % moisture the panel's edge draws back 5.35 mm and the lip laps over it 3.17 mm when fitted: let it lap "
        "at least 6.35 mm",
        "at 6 % moisture the panel's edge draws back 13/64 +0.008 in and the lip laps over it 1/8 in when fitted: let "
        "it lap at least 1/4 in",
    ),
    (
        Flag("finish-nothing", None, 0.0, 0.0, LENGTH, "rip", named(number=count(2))),
        "finish 2 (rip) takes nothing: move it, or leave it out",
        "finish 2 (rip) takes nothing: move it, or leave it out",
    ),
    (
        Flag("finish-through", None, 3.175, 0.0, LENGTH, "rabbet", named(number=count(1), piece=count(2))),
        "finish 1 (rabbet, piece 2) breaks into the cove and takes 3.17 mm of its line: make it smaller, or move it",
        "finish 1 (rabbet, piece 2) breaks into the cove and takes 1/8 in of its line: make it smaller, or move it",
    ),
    (
        Flag("finish-thin", None, 1.5875, 3.175, LENGTH, "round over", named(number=count(3))),
        "finish 3 (round over) leaves 1.59 mm of wood behind the face it cuts, less than 3.17 mm: make it smaller, or "
        "move it",
        "finish 3 (round over) leaves 1/16 in of wood behind the face it cuts, less than 1/8 in: make it smaller, or "
        "move it",
    ),
]


@pytest.mark.parametrize(("flag", "in_mm", "in_inches"), SAYS, ids=[flag.code for flag, *_ in SAYS])
def test_a_flag_says_its_figure_its_limit_and_what_to_do(flag, in_mm, in_inches):
    """Word for word, in mm and in fractions of an inch."""
    assert sentence_of(flag, Units()) == in_mm
    assert sentence_of(flag, Units("in")) == in_inches


def test_every_code_has_a_sentence_a_test_of_it_and_a_place_in_the_readme():
    """A code added in one place only fails here."""
    listed = re.search(r"^Flags: (.*?)\.$", README, re.MULTILINE | re.DOTALL)[1]

    assert {flag.code for flag, *_ in SAYS} == set(CODES)
    assert re.findall(r"`([a-z-]+)`", listed) == list(CODES)


def test_every_flag_names_a_key_of_the_scene():
    """A key, or the list of operations, as they are documented."""
    keys = {key.path for key in documented_keys()} | {"finish"}

    assert {flag.field for flag, *_ in SAYS} <= keys


def test_a_flag_has_its_code_beside_its_sentence():
    """On a line of its own, and as data for a page."""
    flag, in_mm, _ = SAYS[0]

    assert flag_line(flag, Units()) == f"! pass 1: {in_mm}. (rise-large)"
    assert flag_words((flag,), Units()) == [{"code": "rise-large", "message": in_mm}]
