"""The list of mistakes that tests must find is about lines that are there."""

from __future__ import annotations

from tests.mutants import MUTANTS, ROOT


def test_every_mistake_changes_one_place_and_names_a_test_that_is_there():
    """At least twenty of them; `python -m tests.mutants` tries them."""
    for one in MUTANTS:
        path, _, name = one.test.partition("::")

        assert (ROOT / "sweep" / one.file).read_text(encoding="utf-8").count(one.right) == 1, one.name
        assert f"def {name}" in (ROOT / path).read_text(encoding="utf-8"), one.name
    assert len({one.name for one in MUTANTS}) == len(MUTANTS) >= 20
