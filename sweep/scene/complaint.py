"""What the checking library complains of, as one sentence: which field, what is wrong, what to write instead."""

from __future__ import annotations

import difflib
from typing import get_args

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from sweep.errors import SceneError
from sweep.scene.defaults import tables_in
from sweep.scene.documented import documented_keys
from sweep.scene.model import Scene

LEFT_OUT = {
    "passes.heights": ", or leave [passes] out, and they are planned",
    "setup.fence_angle": ", or leave [setup] out, and it is worked out from [target]",
    "setup.blade_height": ", or leave [setup] out, and it is worked out from [target]",
}
"""What else may be done where a key is missing: its whole section may."""


def in_one_sentence(error: ErrorDetails, of: type[BaseModel] = Scene) -> SceneError:
    """Return pydantic's complaint about a scene, or about another file's model, as a sentence of ours."""
    place, known = _place_of(error["loc"], of)
    kind, limits = error["type"], error.get("ctx", {})
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        place.append(limits["discriminator"].strip("'"))
    index = [part for part in error["loc"] if isinstance(part, int)]
    field = ".".join(place) + (f", number {index[0] + 1}" if index else "")
    written = _shown(error["input"])
    if kind == "value_error":
        wrong = limits["error"]
        return SceneError(field, wrong.problem, wrong.remedy)
    if kind == "extra_forbidden":
        nearest = difflib.get_close_matches(place[-1], known, n=1, cutoff=0.5)
        remedy = f"the nearest known key is {nearest[0]}" if nearest else "known here are " + ", ".join(known)
        return SceneError(field, "there is no such key", remedy)
    if kind in ("missing", "union_tag_not_found"):
        also = LEFT_OUT.get(".".join(place), "")
        return SceneError(field, "it is missing", f"`sweep keys {place[0]}` shows how to write it{also}")
    if kind == "literal_error":
        return SceneError(field, "'{written}' is not known here", f"write {limits['expected']}", written=written)
    if kind == "union_tag_invalid":
        tag = limits["tag"][:40]
        return SceneError(
            field, "'{written}' is not known here", f"write one of {limits['expected_tags']}", written=tag
        )
    if kind == "greater_than_equal":
        return SceneError(field, f"{{written}} is less than {limits['ge']}", "write at least that", written=written)
    if kind == "less_than_equal":
        return SceneError(field, f"{{written}} is more than {limits['le']}", "write at most that", written=written)
    if kind == "finite_number":
        return SceneError(field, "{written} is no number", "write one in figures", written=written)
    if kind in ("too_short", "string_too_short") and not error["input"]:
        optional = not any(key.path == field and key.required for key in documented_keys())
        remedy = f"write at least {limits['min_length']} in it" + (", or leave it out" if optional else "")
        return SceneError(field, "it is empty", remedy)
    if kind == "too_short":
        return SceneError(field, f"there are fewer than {limits['min_length']} in it", "write at least that many")
    if kind == "too_long":
        return SceneError(field, f"there are more than {limits['max_length']} in it", "write at most that many")
    if kind == "string_too_long":
        return SceneError(field, f"it is longer than {limits['max_length']} characters", "write at most that many")
    if kind == "tuple_type" and isinstance(error["input"], dict):
        return SceneError(field, f"[{field}] is one table", f"write [[{field}]] above each, or above the only one")
    if kind == "model_type" and isinstance(error["input"], list):
        return SceneError(field, "it is a list of tables", f"write [{field}] once, with single brackets")
    wanted = {
        "model_type": "a table of its own, [section]",
        "model_attributes_type": "a table of its own, [[section]]",
        "tuple_type": "a list in square brackets",
        "bool_type": "true or false, without quotation marks",
        "int_type": "a whole number",
        "int_from_float": "a whole number",
        "int_parsing": "a whole number",
        "float_type": "a number",
        "float_parsing": "a number",
        "string_type": "text in quotation marks",
    }
    return SceneError(field, "this is not what belongs here", f"write {wanted.get(kind, error['msg'])}")


def _shown(value: object) -> str:
    """Return the beginning of what was written; Python prints no whole number of more than 4300 figures."""
    return "this number" if isinstance(value, int) and abs(value) > 10**40 else str(value)[:40]


def _place_of(location: tuple[str | int, ...], of: type[BaseModel]) -> tuple[list[str], list[str]]:
    """Return the keys that lead to a place in a file, and those that are known where the last of them stands.

    Where tables of several kinds may stand, the location names the kind too, which is no key.
    """
    place: list[str] = []
    known, models = list(of.model_fields), [of]
    for part in location:
        if isinstance(part, int):
            continue
        if len(models) > 1:
            models = [model for model in models if part in get_args(model.model_fields["do"].annotation)]
            continue
        if models:
            fields = models[0].model_fields
            known = list(fields)
            models = tables_in(fields[part].annotation) if part in fields else []
        place.append(part)
    return place, known
