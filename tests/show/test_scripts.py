"""The page's modules as one script: each once, in an order in which each finds what it needs."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

import sweep.show.page.scripts
from sweep.show.page.scripts import bare, one_script
from sweep.units import Units

PARTS = Path(sweep.show.page.scripts.__file__).with_name("parts")

MODULES = {
    "page": (
        'import { twice } from "./middle.js";\nimport { base, later } from "./base.js";\n'
        "const own = 1;\nlater().then((value) => console.log(JSON.stringify([twice(), base, own, value])));\n"
    ),
    "middle": 'import { base } from "./base.js";\nconst own = 2;\nexport const twice = () => own * base;\n',
    "base": "console.log('once');\nexport const base = 21;\nexport async function later() {\n  return 'later';\n}\n",
    "left": 'import { right } from "./right.js";\n',
    "right": 'import { left } from "./left.js";\n',
    "all": 'import * as base from "./base.js";\n',
    "default": "export default 1;\n",
}


def node() -> str:
    """Where node is; skip where there is none."""
    found = shutil.which("node")
    if found is None:
        pytest.skip("there is no node here; on Debian or Ubuntu, 'apt-get install nodejs' brings it")
    return found


def test_modules_run_as_one_script():
    """Each keeps its own names, runs once, and has what it imports."""
    said = subprocess.run([node(), "-e", one_script("page", MODULES.get)], capture_output=True, text=True, check=True)

    once, found = said.stdout.splitlines()
    assert once == "once"
    assert json.loads(found) == [42, 21, 1, "later"]


def test_the_phone_shows_lengths_as_the_program_does():
    """Set, found, read and by tape, in all units, to 0.4 m either way; none lies half way between two figures."""
    chance = np.random.default_rng(7)
    lengths = (5 * chance.integers(-80_000, 80_000, 300) + chance.integers(1, 5, 300)).tolist()
    lengths += [0, 3, -3, 7144, 12700, -12700]
    styles = ("mm", "in", "in-decimal")
    entry = (
        'import { figuresIn } from "./saw_figures.js";\n'
        f"const all = {json.dumps(styles)}.map((style) => figuresIn(style));\n"
        "console.log(JSON.stringify(all.map(({ length, nearest, read, tape }) =>"
        f" {lengths}.map((um) => [length(um), nearest(um), read(um), tape(um)]))));\n"
    )
    script = one_script("entry", lambda name: entry if name == "entry" else (PARTS / f"{name}.js").read_text())
    told = json.loads(subprocess.run([node(), "-e", script], capture_output=True, text=True, check=True).stdout)

    for style, every in zip(styles, told, strict=True):
        units = Units(style)
        for um, shown in zip(lengths, every, strict=True):
            mm = um / 1000
            ours = [units.length(mm), units.nearest(mm), units.as_read(mm), units.tape(mm)]
            assert shown == [str(one) for one in ours], (style, um)


@pytest.mark.parametrize(
    ("entry", "what"),
    [("left", "left imports right imports left, which is a circle"), ("all", "all.js"), ("default", "default.js")],
)
def test_what_cannot_be_put_together_is_refused(entry, what):
    """By the name of the module."""
    with pytest.raises(ValueError, match=what):
        one_script(entry, MODULES.get)


def test_what_is_for_readers_only_is_not_sent_and_nothing_else_is_lost():
    """Comments and casts go, and no line is empty; what looks like a comment in words stays, and what follows it."""
    text = "// of its own\n/** @type {string} */\n" + 'const a = "// no";\n'
    text += "  /** @type {A} */ (a).b(); /** c */\n\n/**\n * d\n */\ne(); // f\n"
    text += "const b = `x // y`; // a maker's\n" + 'const c = [" // z", 1];\n'
    assert bare(text) == (
        'const a = "// no";\n(a).b(); /** c */\ne();\nconst b = `x // y`; // a maker\'s\nconst c = [" // z", 1];\n'
    )


def test_what_was_pressed_and_refused_is_not_tried_again_with_what_is_done_next():
    """Texts are, and what waits for a choice between two hands; a value put back would undo the other hand's."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("there is no node here; on Debian or Ubuntu, 'apt-get install nodejs' brings it")
    refused = [
        {"path": "saw.speed", "do": "type", "value": "fast"},
        {"path": "setups", "do": "set", "value": [], "over": []},
        {"path": "setup", "do": "set", "value": {}, "over": [None]},
        {"path": "finish", "do": "add", "value": "rip"},
    ]
    state = {"changes": {}, "refused": [{"edit": edit} for edit in refused]}
    script = one_script("states", lambda name: (PARTS / f"{name}.js").read_text())
    script += f"console.log(JSON.stringify(states_js.again({json.dumps(state)}, [])));"
    said = subprocess.run([node, "-e", script], capture_output=True, text=True, check=True)

    assert json.loads(said.stdout) == [refused[0], refused[2]]
