"""The forms of the page: every key that a scene can hold, in cards, made from what the model tells of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from sweep.cut.wood_table import WOODS
from sweep.scene.documented import Key, keys_of
from sweep.scene.model import Scene
from sweep.scene.places import MEASURED, value_at
from sweep.scene.setups import KINDS as SETUPS
from sweep.scene.shop import SECTIONS, with_shop
from sweep.scene.table_edits import can_be_alone
from sweep.scene.tables import tables_at
from sweep.show.page.cards import ONLY_FOR, Card, Group, cards_for
from sweep.show.page.fields import Field, Standing, field_of, words_of
from sweep.show.page.finishing import Drawn
from sweep.show.page.heights import Heights, heights_at
from sweep.show.page.lines import line_of, line_of_setup
from sweep.show.page.passes_made import PassesMade
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
    line : str
        What it says folded; empty for a form that is not folded.
    heights : Heights or None
        Of passes.
    folded : bool
        Whether all of it is seen only when it is asked for.
    inside : tuple of Form
        Of the tables in it.
    can_be_alone : bool
        Whether it is a set-up that can be the job's only one.
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
    line: str = ""
    heights: Heights | None = None
    folded: bool = False
    inside: tuple[Form, ...] = ()
    can_be_alone: bool = False

    @property
    def id(self) -> str:
        """A name for the page: ``setups-1``."""
        return self.path.replace(".", "-") or "top"

    @property
    def parts(self) -> tuple[Form, ...]:
        """The form and all that stand in it."""
        return (self, *(part for one in self.inside for part in one.parts))

    @property
    def fields(self) -> tuple[Field, ...]:
        """All fields of this form alone."""
        return (*self.first, *self.more, *(self.heights.fields if self.heights else ()))


OPTIONAL = ("target", "order", "panel", "sanding", "plan", "fence", "limits", "accuracy", "kept")
OPERATIONS = next(key.choices for key in keys_of(tables_at(Scene, {}, "finish")[0], "finish") if key.name == "do")
LISTS = ("blades", "finish", "saws", "setups", MEASURED)


def cards_text(standing: Standing, made: dict[str, PassesMade], drawn: dict[str, Drawn]) -> str:
    """Return the cards as HTML.

    Parameters
    ----------
    standing : Standing
    made : dict
        By the path of the passes of each set-up, as the picture shows them.
    drawn : dict
        By the path of each operation after the cove that can be done.
    """
    lines = lines_told(standing.data, standing.shop)
    cards = [card_of(card, standing, made, lines[card.name]) for card in cards_for(standing.data)]
    return filled_cards(cards, standing, is_shop=False, drawn=drawn)


def lines_told(data: dict[str, Any], shop: dict[str, Any]) -> dict[str, str]:
    """Return what each card of a scene says folded, by its name, and each of several set-ups: ``setups-0``."""
    whole = with_shop(data, shop)
    of_setups = {f"setups-{number}": line_of_setup(one) for number, one in enumerate(data.get("setups", []))}
    return {card.name: line_of(card.name, whole) for card in cards_for(data)} | of_setups


def filled_cards(
    cards: list[dict[str, Any]], standing: Standing, is_shop: bool, drawn: dict[str, Drawn] | None = None
) -> str:
    """Return cards as HTML, with what is changed and what has no place on them."""
    forms = [form for card in cards for form in card["parts"]]
    shown = {form.path for form in forms} | {field.path for form in forms for field in form.fields}
    target = standing.data.get("target")
    return filled(
        "cards.html",
        cards=cards,
        is_shop=is_shop,
        drawn=drawn or {},
        operations=OPERATIONS,
        setups=SETUPS,
        changed=[(words_of(path), path, before) for path, before in standing.changed.items()],
        target=isinstance(target, dict) and target.get("whole") is not True,
        lost=[
            (words_of(path), path, why, path in standing.both)
            for path, (_, why) in standing.refused.items()
            if path not in shown
        ],
    )


def card_of(card: Card, standing: Standing, made: dict[str, PassesMade], line: str) -> dict[str, Any]:
    """Return a card with its forms; `line` is what it says folded."""
    forms = [form for group in card.groups for form in _forms(group, standing, made)]
    parts = [part for form in forms for part in form.parts]
    refused = [one for part in parts for one in part.fields if one.refused]
    inside = [path for path in standing.changed if path == "title" or path.partition(".")[0] in _sections(card)]
    return {
        "name": card.name,
        "heading": card.heading,
        "forms": forms,
        "parts": parts,
        "line": line,
        "refused": len(refused) + sum(part.path in standing.refused for part in parts if part.path),
        "changed": len([path for path in inside if path != "title" or card.name == "wood"]),
    }


def _sections(card: Card) -> set[str]:
    sections = {group.section for group in card.groups}
    return sections | ({"blades"} if "blade" in sections else set()) | ({"saw"} if "saws" in sections else set())


def _forms(group: Group, standing: Standing, made: dict[str, PassesMade]) -> list[Form]:
    """Return the form of a table; of a list of them, one for each."""
    section = "blades" if group.section == "blade" and "blades" in standing.data else group.section
    if section == "passes":
        return [_passes(group, section, standing, made)]
    if section not in LISTS:
        return [replace(_form(group, section, group.heading, standing), folded=group.folded)]
    forms = []
    for number, table in enumerate(standing.data.get(section, [])):
        path, heading = f"{section}.{number}", f"{number + 1}. {_called(section, table)}"
        form = replace(_form(group, path, heading, standing), in_list=True)
        forms.append(_with_tables(form, table, standing, made) if section == "setups" else form)
    if section == MEASURED:  # one more begins as soon as something is typed into it
        forms.append(
            replace(_form(group, f"{section}.{len(forms)}", "Measured, to be written down", standing), folded=True)
        )
    return forms


def _called(section: str, table: dict[str, Any]) -> str:
    """Return what one of several tables is called on its form."""
    if section == MEASURED:
        return "measured"
    return str(table.get("do", "") if section == "finish" else table.get("name") or table.get("do", section[:-1]))


def _with_tables(form: Form, table: dict[str, Any], standing: Standing, made: dict[str, PassesMade]) -> Form:
    """Return the form of one of several set-ups, with its passes and the fence of its own."""
    inside = []
    if table.get("do") != "rabbet":
        group = Group("passes", ("feed_speed", "last_feed_speed", "stop"), "Its passes")
        inside.append(_passes(group, f"{form.path}.passes", standing, made))
    fence = _form(Group("fence", ()), f"{form.path}.fence", "A fence of its own", standing)
    inside.append(replace(fence, removable="fence" in table, folded=True))
    return replace(
        form, inside=tuple(inside), line=line_of_setup(table), can_be_alone=can_be_alone(standing.data, table)
    )


def _passes(group: Group, path: str, standing: Standing, made: dict[str, PassesMade]) -> Form:
    """Return the form of passes; of those that cannot be written nothing is typed."""
    heights = heights_at(path, standing, made.get(path, PassesMade((), ())))
    if value_at(standing.data, path) is None:
        return Form(group.heading, path, (), (), refused=standing.refused.get(path, ("", ""))[1], heights=heights)
    return replace(_form(group, path, group.heading, standing), heights=heights)


def _form(group: Group, path: str, heading: str, standing: Standing) -> Form:
    (model, *_) = tables_at(Scene, standing.data, path)
    keys = {key.name: key for key in keys_of(model, group.section) if _is_field(key, standing)}
    first = group.first or tuple(keys)
    if group.section in ("setup", "setups") and standing.data.get("blades"):
        first = (*first[:2], "blade", *first[2:])
    others = () if group.alone else tuple(name for name in keys if name not in first)
    names = [*(name for name in first if name in keys), *others]
    fields = [_field(keys[name], f"{path}.{name}" if path else name, standing) for name in names]
    fields = [field for field in fields if _goes_with(field, standing.data)]
    return Form(
        heading,
        path,
        tuple(field for field in fields if field.path.rpartition(".")[2] in first),
        tuple(field for field in fields if field.path.rpartition(".")[2] not in first),
        refused=standing.refused[path][1] if path in standing.refused else "",
        removable=(path in OPTIONAL or path in standing.shop) and path in standing.data,
        in_shop=path in standing.shop,
        for_shop=path in SECTIONS and path in standing.data,
    )


def _is_field(key: Key, standing: Standing) -> bool:
    """Return whether a key is typed into a field: not a table, not what an operation does, which is its heading."""
    if key.name == "blade" and key.section in ("setup", "setups"):
        return bool(standing.data.get("blades"))
    if key.name == "do":
        return key.section == "setups"
    return key.values != "tables" and key.kind != "table" and key.path not in ("passes.heights", "passes.feeds")


def _field(key: Key, path: str, standing: Standing) -> Field:
    picks: tuple[str, ...] = ()
    if key.name == "species":
        picks = tuple(wood.name for wood in WOODS)
    elif path == "saw.name":
        picks = standing.saws
    elif key.name == "blade":
        picks = tuple(str(blade.get("name", "")) for blade in standing.data["blades"])
    elif key.name == "do":
        key = replace(key, choices=SETUPS, description="what is cut")
    return field_of(key, path, value_at(standing.data, path), standing, picks)


def _goes_with(field: Field, data: dict[str, Any]) -> bool:
    table, _, name = field.path.rpartition(".")
    if table.partition(".")[0] in ("blade", "blades") and name in ("diameter", "kerf", "tip", "bevel", "profile"):
        given = bool(value_at(data, f"{table}.profile"))
        return bool(field.text) or (name == "profile") == given
    if name in ("feed_speed", "last_feed_speed") and value_at(data, f"{table}.feeds") is not None:
        return False  # each pass has its own
    shapes = ONLY_FOR.get(field.path)
    return shapes is None or bool(field.text) or value_at(data, "target.shape") in shapes
