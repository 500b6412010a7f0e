"""A case: files, what stands in the way of the output, and the command lines that are run on them one after another."""

from __future__ import annotations

import json
import random
from dataclasses import asdict, dataclass, field
from pathlib import Path

from sweep.scene.documented import documented_keys

from .drawings import damaged
from .texts import DEMOS, random_files

UNITS = ["mm", "in", "in-decimal"]


@dataclass(frozen=True)
class Case:
    """One thing to try.

    Parameters
    ----------
    seed : int
        From which the case was made.
    commands : list of list of str
        What is typed after `sweep`, in a folder that holds the files. A word `desk` instead of a command asks the live
        page's desk, the rest being what is asked for and the body in JSON; `laws` holds the simulation to its laws.
    files : dict of str to bytes
    links : dict of str to str
        Symbolic links: what each points to.
    folders : list of str
        Empty folders.
    """

    seed: int
    commands: list[list[str]]
    files: dict[str, bytes] = field(default_factory=dict)
    links: dict[str, str] = field(default_factory=dict)
    folders: list[str] = field(default_factory=list)

    def lay_out(self, place: Path) -> None:
        """Write the case's files into an empty folder."""
        for name in self.folders:
            (place / name).mkdir(parents=True, exist_ok=True)
        for name, content in self.files.items():
            (place / name).parent.mkdir(parents=True, exist_ok=True)
            (place / name).write_bytes(content)
        for name, to in self.links.items():
            (place / name).symlink_to(to)

    def text(self) -> str:
        """Return the case as one line of JSON."""
        return json.dumps(asdict(self) | {"files": {name: content.hex() for name, content in self.files.items()}})


def case_of(text: str) -> Case:
    """Return the case that `Case.text` wrote."""
    table = json.loads(text)
    return Case(**table | {"files": {name: bytes.fromhex(content) for name, content in table["files"].items()}})


def random_case(seed: int) -> Case:
    """Return a random case, the same for the same seed."""
    chance = random.Random(seed)
    kind = chance.choices(
        ["laws", "run", "out", "solve", "fence", "cutlist", "match", "desk", "correct"], [6, 3, 3, 2, 2, 3, 1, 3, 2]
    )[0]
    if kind == "match":
        return _match(seed, chance)
    files = random_files(chance)
    if kind == "out":
        return _out(seed, chance, files)
    units = [] if chance.random() < 0.5 else ["--units", chance.choice(UNITS)]
    if kind == "desk":
        return Case(seed, [["desk", "scene.toml", *_question(chance)] for _ in range(3)], files)
    command = [kind, "scene.toml", *units] if kind != "laws" else ["laws", "scene.toml"]
    if kind == "run":
        command += [] if chance.random() < 0.04 else ["--no-pictures"]
        command += chance.choice(
            [[], [], ["--chord", "0.05 mm"], ["--chord", chance.choice(["x", "0", "1e-9 mm", ""])]]
        )
        command += chance.choice([[], ["--paper", "letter"]])
    if kind == "solve":
        command += chance.choice([[], [], ["--write"], ["--write", "new.toml"], ["--write", "no/new.toml"]])
    if kind == "correct":
        command += _measured(chance)
    return Case(seed, [command], files)


def _measured(chance: random.Random) -> list[str]:
    """Return what may have been measured after a pass or two, or could not."""
    words = []
    for _ in range(chance.choice([1, 1, 1, 2])):
        words += ["--pass", str(chance.choice([1, 1, 1, 2, 3, chance.randint(-1, 600)]))]
        for name, most in (("width", 90), ("depth", 25), ("flat", 60)):
            size = f"{chance.uniform(0.01, most):.4g} mm"
            words += chance.choice([[], [f"--{name}", size], [f"--{name}", chance.choice([size, "0 mm", "x", "1 in"])]])
            words += chance.choice([[], [], [], [f"--{name}-accuracy", chance.choice(["0.001 mm", "5 mm", "0 mm"])]])
    return [*words, *chance.choice([[], [], ["--setup", chance.choice(["1", "2", "cove 1", ""])], ["--json"]])]


def _match(seed: int, chance: random.Random) -> Case:
    points = (DEMOS[0].parent / "measured-offcut.csv").read_bytes()
    rows = points.splitlines(keepends=True)
    if chance.random() < 0.7:
        points = b"".join(row for row in rows if chance.random() < chance.choice([0.1, 0.6, 0.97]))
    if chance.random() < 0.4:
        points = damaged(chance, points)
    blade = chance.choice(
        [["--diameter", "254 mm", "--kerf", "3.2 mm"], ["--blade", "scene.toml"], ["--bevel", "15 deg"]]
    )
    more = chance.choice(
        [[], ["--accuracy", chance.choice(["0.01 mm", "0 mm", "5 mm", "x"])], ["--tilts", "0 deg", "0 deg"]]
    )
    return Case(seed, [["match", "points.csv", *blade, *more]], random_files(chance) | {"points.csv": points})


def _out(seed: int, chance: random.Random, files: dict[str, bytes]) -> Case:
    """Return a run into a folder that is new, empty, the user's, ours, a link, a file, or none at all."""
    out, links, folders = "out", {}, []
    commands = 1
    kind = chance.choice(
        ["user", "ours", "ours", "link", "dangling", "file", "here", "above", "deep", "long", "scene", "empty"]
    )
    notes = ["note.txt", "result.json", "sheet.pdf", "pass-01.stl", "sub/finished.stl", ".hidden", "scene.toml"]
    if kind in ("user", "link"):
        files = files | {f"mine/{name}": b"of the user" for name in chance.sample(notes, chance.randint(1, 4))}
        out = "mine"
    if kind == "ours":
        commands = 2
    if kind in ("link", "dangling"):
        links = {"out": "mine" if kind == "link" else "nowhere/at/all"}
        out = "out"
    if kind == "file":
        files = files | {"out": b"a file of the user"}
    if kind == "empty":
        folders = ["out"]
    if kind == "scene":
        files = files | {"out/scene.toml": files["scene.toml"]}
    out = {"here": ".", "above": "..", "deep": "a/b/c/d", "long": "x" * 300}.get(kind, out)
    scene = "out/scene.toml" if kind == "scene" else "scene.toml"
    return Case(seed, [["run", scene, "--no-pictures", "--out", out]] * commands, files, links, folders)


def _edit(chance: random.Random) -> dict[str, object]:
    """Return something that a page may do to its scene, or could not."""
    path = chance.choice(
        [key.path for key in documented_keys()]
        + [
            "finish",
            "finish.0",
            "finish.1.radius",
            "blades",
            "blades.0",
            "passes.heights.0",
            "passes.heights.99",
            "passes.feeds.1",
            "order",
            "setups",
            "setups.0",
            "setups.1.do",
            "setups.0.blade_height",
            "setups.1.passes",
            "setups.0.passes.heights.1",
            "setups.0.passes.feeds.0",
        ]
    )
    texts = [
        "",
        "3",
        "1/8",
        "2½ in",
        "4 x 38 in\n2 m",
        "0 0\n10 5\n20 0",
        "through",
        "chamfer",
        "rabbet",
        "x" * 300,
        "-1,5",
        "true",
    ]
    value = chance.choice([*texts, None, 3, True, [], ["3 mm"], {"do": "rip"}, [[1, 2]]])
    over = chance.choice([[], [], [], [None], ["28 deg"]])
    lists = ["add", "add", "copy", "remove", "up", "down", "even", "more", "fewer"]
    do = chance.choice(["type", "type", "type", "set", *lists])
    return {"path": path, "do": do, "value": value, "over": over}


def _question(chance: random.Random) -> list[str]:
    """Return what a page may ask of its desk, and what it would not."""
    changes = {
        "setup.fence_angle": ["30 deg", "0.1 deg", "90 deg", "x", 3, None],
        "setup.blade_height": ["12 mm", "1/2 in", "0.01 mm", "300 mm", "", []],
        "setup.blade_tilt": ["0 deg", "45 deg", "-20 deg", "50 deg"],
        "setup.offset": ["0 mm", "-30 mm", "200 mm"],
        "blade.kerf": ["3 mm", "0 mm", "100 mm"],
        "passes.feed_speed": ["2 m/min", "0 m/min", "1e-9 m/min"],
        "passes.heights": [["3 mm", "12 mm"], [], ["5 mm"], "5 mm", [3], [["5 mm"]]],
        "title": ["no"],
    }
    body = {
        "changes": {
            key: chance.choice(changes[key]) for key in chance.sample(list(changes), chance.choice([0, 1, 1, 2]))
        },
        "edits": [_edit(chance) for _ in range(chance.choice([0, 0, 1, 1, 2, 5]))],
        "units": chance.choice([*UNITS, "furlong"]),
        "pass": chance.choice([0, 1, 1, 2, 3, 8, 99, 10_000, -1, "x", 1.5, None]),
        "travel": chance.choice([0, 50.0, 700.0, -100_000, 1e5, None, None, 1e9, "x"]),
    }
    name = chance.choice(["cut", "cut", "cut", "feed", "solve", "save", "page", "sheet.pdf", "finished.stl"])
    if name == "cut" and chance.random() < 0.5:
        del body["pass"]
    return [name, json.dumps(body)]
