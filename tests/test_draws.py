"""Random scenes: the same in every run, whatever the program's source holds."""

from __future__ import annotations

import sys
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def drawn() -> list[float]:
    """Some numbers, as the laws draw them."""
    found = []

    @given(st.floats(0, 1000))
    def law(number):
        found.append(number)

    law()
    return found


@pytest.mark.skipif(settings.get_current_profile_name() != "quick", reason="a long search takes what it finds")
def test_what_is_drawn_does_not_change_with_a_constant_of_the_source(tmp_path, monkeypatch):
    """Neither with an edit, nor with which files a worker has loaded before."""
    before = drawn()
    source = tmp_path.parent / "more" / "constants.py"  # where the library takes a file for one of ours
    source.parent.mkdir()
    source.write_text("\n".join(f"N{k} = {k}.25" for k in range(900)))
    module = ModuleType("constants")
    module.__file__ = str(source)
    monkeypatch.setitem(sys.modules, "constants", module)

    assert drawn() == before
    assert len(before) == settings().max_examples
