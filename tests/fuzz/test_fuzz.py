"""The fuzzer's short part: a few seeded cases in which nothing may be found, and proof that it finds what it should.

The long one is `python -m tests.fuzz --minutes 30`.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from demos import SCENES
from pydantic import BaseModel

from fuzz import examine as examining
from fuzz.case import Case, case_of, random_case
from fuzz.examine import examine
from fuzz.hunt import Worker, hunt
from fuzz.scenes import whole_scene
from sweep.scene.defaults import tables_in
from sweep.scene.model import Scene

ARC, LEANING = ((SCENES / f"{name}.toml").read_bytes() for name in ("stopped-cove", "leaning-cove"))


def test_nothing_is_found_in_the_first_cases():
    """Every kind is among them: runs, plans, cut lists, offcuts, folders, questions of a page."""
    found = [find.what for find in hunt(map(random_case, range(10))) if find]

    assert found == []


def test_a_case_is_the_same_for_the_same_seed_and_is_read_back_as_it_was():
    """What is found can be seen again."""
    for seed in range(60):
        case = random_case(seed)
        assert random_case(seed) == case
        assert case_of(case.text()) == case


def keys(model: type[BaseModel], place: str = "") -> set[str]:
    """Return every key that a table of the scene may hold, those of the tables in it among them."""
    found = set()
    for name, field in model.model_fields.items():
        inner = [key for table in tables_in(field.annotation) for key in keys(table, f"{place}{name}.")]
        found |= set(inner) or {place + name}
    return found


def written(table: object, place: str = "") -> set[str]:
    """Return every key that stands in a scene."""
    if isinstance(table, list) and any(isinstance(one, dict) for one in table):
        return {key for one in table for key in written(one, place)}
    if isinstance(table, dict):
        return {key for name, value in table.items() for key in written(value, f"{place}.{name}" if place else name)}
    return {place}


def test_every_key_of_the_schema_turns_up_in_random_scenes():
    """A new key has to be thrown at the program too."""
    seen = {key for seed in range(400) for key in written(whole_scene(random.Random(seed), {}))}

    assert seen >= keys(Scene)


@pytest.mark.parametrize(
    ("does", "says"),
    [
        ("raise ValueError('inside')", "ValueError: inside"),
        ("raise SystemExit(3)", "status 3"),
        ("print('\\x1b[31m'); raise SystemExit(0)", "printed"),
        ("Path('x').touch(); print('error: a sentence.', file=sys.stderr); raise SystemExit(2)", "and written"),
        ("print('error: a\\nb', file=sys.stderr); raise SystemExit(2)", "refused with"),
        ("raise SystemExit(2)", "refused with"),
        ("Path('scene.toml').write_text('#'); raise SystemExit(0)", "a file of the user's is gone or changed"),
        ("import warnings; warnings.warn('odd', stacklevel=1); raise SystemExit(0)", "UserWarning: odd"),
        ("os.mkdir('out'); Path('out/result.json').write_text('[NaN]'); raise SystemExit(0)", "NaN in result.json"),
    ],
)
def test_what_must_not_be_is_found(monkeypatch, does, says):
    """Each of the ways in which a command can go wrong, done on purpose."""
    monkeypatch.setattr(examining, "main", lambda command: exec("import os, sys; " + does, {"Path": Path}))

    assert says in examine(Case(0, [["run", "scene.toml"]], {"scene.toml": ARC}))


def test_what_may_be_is_not_found(monkeypatch):
    """A refusal in one sentence, and a folder beside the user's files."""
    for does in ("print('error: a sentence.', file=sys.stderr); raise SystemExit(2)", "os.mkdir('o'); sys.exit(1)"):
        monkeypatch.setattr(
            examining, "main", lambda command, does=does: exec("import os, sys; " + does, {"Path": Path})
        )

        assert examine(Case(0, [["run", "scene.toml"]], {"scene.toml": ARC})) == ""


def test_a_case_without_end_is_ended_and_the_next_one_is_examined():
    """By the clock, with the place where it stood."""
    with Worker(0.2) as worker:
        assert worker.examine(Case(0, [["solve", "scene.toml"]], {"scene.toml": LEANING})).startswith("too slow")
        assert worker.examine(Case(0, [], {})) == ""
