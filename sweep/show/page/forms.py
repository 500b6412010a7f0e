"""The forms of the page: every key that a scene can hold, in cards, made from what the model tells of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sweep.cut.wood_table import WOODS
from sweep.scene.documented import Key, keys_of
from sweep.scene.model import Scene
from sweep.scene.places import value_at
from sweep.scene.shop import SECTIONS, with_shop
from sweep.scene.tables import tables_at
from sweep.show.page.cards import CARDS, ONLY_FOR, Card, Group
from sweep.show.page.fields import Field, Standing, field_of, label_of
from sweep.show.page.lines import line_of
from sweep.show.page.template import filled


@dataclass(frozen=True)
class Form:
    """The fields of one table.

    Parameters
    ----------
    heading : str
    path : str
        Of the table: ``finish.2``.
    first, more : tuple of Field
    in_list : bool
        Whether it is one of several that can be moved and taken away.
    refused : str
        What is wrong with the whole of it.
    removable : bool
        Whether the scene can do without it, and has it.
    in_shop : bool
        Whether the shop has it.
    for_shop : bool
        Whether the scene has it, and a shop may.
    """

    heading: str
    path: str
    first: tuple[Field, ...]
    more: tuple[Field, ...]
    in_list: bool = False
    refused: str = ""
    removable: bool = False
    in_shop: bool = False
    for_shop: bool = False


OPTIONAL = ("target", "order", "panel", "sanding", "plan", "fence", "limits", "accuracy")
OPERATIONS = next(key.choices for key in keys_of(tables_at(Scene, {}, "finish")[0], "finish") if key.name == "do")


def cards_text(standing: Standing, rises: tuple[str, ...]) -> str:
    """Return the cards as HTML.

    Parameters
    ----------
    standing : Standing
    rises : tuple of str
        Of each pass that the picture shows, in words.
    """
    cards = [_card(card, standing) for card in CARDS]
    changed = [(_words(path), path, before) for path, before in standing.changed.items()]
    return filled(
        "cards.html",
        cards=cards,
        passes=_passes(standing, rises),
        operations=OPERATIONS,
        changed=changed,
        several=bool(standing.data.get("blades")),
        lost=[
            (_words(path), path, why, path in standing.both)
            for path, (_, why) in standing.refused.items()
            if path not in _shown(cards)
        ],
    )


def _shown(cards: list[dict[str, Any]]) -> set[str]:
    """Return the paths at which a refusal is told in its place."""
    forms = [form for card in cards for form in card["forms"]]
    return {field.path for form in forms for field in (*form.first, *form.more)} | {form.path for form in forms}


def _card(card: Card, standing: Standing) -> dict[str, Any]:
    forms = [form for group in card.groups for form in _forms(group, standing)]
    fields = [field for form in forms for field in (*form.first, *form.more)]
    heads = tuple(form.path for form in forms if form.path)
    inside = [path for path in standing.changed if path == "title" or path.partition(".")[0] in _sections(card)]
    return {
        "name": card.name,
        "heading": card.heading,
        "forms": forms,
        "line": line_of(card.name, with_shop(standing.data, standing.shop)),
        "refused": sum(bool(field.refused) for field in fields) + sum(head in standing.refused for head in heads),
        "changed": len([path for path in inside if path != "title" or card.name == "wood"]),
    }


def _sections(card: Card) -> set[str]:
    return {group.section for group in card.groups} | ({"blades"} if card.name == "saw" else set())


def _forms(group: Group, standing: Standing) -> list[Form]:
    """Return the form of a table; of a list of them, one for each."""
    section = "blades" if group.section == "blade" and "blades" in standing.data else group.section
    if section not in ("blades", "finish"):
        return [_form(group, section, group.heading, standing)]
    tables = standing.data.get(section, [])
    forms = []
    for number, table in enumerate(tables):
        called = table.get("name", "blade") if section == "blades" else table.get("do", "")
        forms.append(_form(group, f"{section}.{number}", f"{number + 1}. {called}", standing, in_list=True))
    return forms


def _form(group: Group, path: str, heading: str, standing: Standing, in_list: bool = False) -> Form:
    (model, *_) = tables_at(Scene, standing.data, path)
    keys = {key.name: key for key in keys_of(model, group.section) if _is_field(key, standing)}
    first = group.first or tuple(keys)
    if group.section == "setup" and standing.data.get("blades"):
        first = ("blade", *first)
    names = [*(name for name in first if name in keys), *(name for name in keys if name not in first)]
    fields = [_field(keys[name], f"{path}.{name}" if path else name, standing) for name in names]
    fields = [field for field in fields if _goes_with(field, standing.data)]
    return Form(
        heading,
        path,
        tuple(field for field in fields if field.path.rpartition(".")[2] in first),
        tuple(field for field in fields if field.path.rpartition(".")[2] not in first),
        in_list,
        standing.refused[path][1] if path in standing.refused else "",
        (path in OPTIONAL or path in standing.shop) and path in standing.data,
        path in standing.shop,
        path in SECTIONS and path in standing.data,
    )


def _is_field(key: Key, standing: Standing) -> bool:
    """Return whether a key is typed into a field: not a table, not what an operation does, which is its heading."""
    if key.path == "setup.blade":
        return bool(standing.data.get("blades"))
    return key.values != "tables" and key.kind != "table" and key.name != "do" and key.path != "passes.heights"


def _field(key: Key, path: str, standing: Standing) -> Field:
    picks: tuple[str, ...] = ()
    if key.name == "species":
        picks = tuple(wood.name for wood in WOODS)
    elif key.path == "setup.blade":
        picks = tuple(str(blade.get("name", "")) for blade in standing.data["blades"])
    return field_of(key, path, value_at(standing.data, path), standing, picks)


def _goes_with(field: Field, data: dict[str, Any]) -> bool:
    table, _, name = field.path.rpartition(".")
    if table.partition(".")[0] in ("blade", "blades") and name in ("diameter", "kerf", "tip", "bevel", "profile"):
        given = bool(value_at(data, f"{table}.profile"))
        return bool(field.text) or (name == "profile") == given
    shapes = ONLY_FOR.get(field.path)
    return shapes is None or bool(field.text) or value_at(data, "target.shape") in shapes


def _passes(standing: Standing, rises: tuple[str, ...]) -> list[dict[str, Any]]:
    """Return a row for each pass: its height as a field, its rise."""
    rows = []
    for number, height in enumerate(value_at(standing.data, "passes.heights") or []):
        path = f"passes.heights.{number}"
        typed, sentence = standing.refused.get(path, (None, ""))
        rise = rises[number] if number < len(rises) else ""
        label = f"height of pass {number + 1}"
        field = Field(path, label, "", "text", str(height) if typed is None else typed, "", refused=sentence)
        rows.append({"number": number + 1, "field": field, "rise": rise})
    return rows


def _words(path: str) -> str:
    """Return a path in words: ``finish.1.radius`` is "finish 2, radius"."""
    section, *rest = path.split(".")
    names = [str(int(part) + 1) if part.isdecimal() else f"{label_of(part)}" for part in rest]
    said = label_of(section)
    for name in names:
        said += f" {name}" if name.isdecimal() else f", {name}"
    return said
