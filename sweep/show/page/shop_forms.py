"""The forms of a folder's shop: those tables of a scene that stay the same from job to job."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sweep.scene.places import value_at
from sweep.scene.shop import BOARDS, UNITS
from sweep.scene.typed import as_typed
from sweep.show.page.cards import Card, Group
from sweep.show.page.fields import Field, Standing
from sweep.show.page.forms import Form, card_of, filled_cards

CARDS = (
    Card(
        "machine", "Saw", (Group("saw", ("speed", "motor", "max_height", "lift_per_turn")), Group("fence", (), "Fence"))
    ),
    Card("blades", "Blades", (Group("blade", ("name", "diameter", "kerf", "teeth", "tip", "bevel"), "Blade"),)),
    Card("limits", "Limits", (Group("limits", ("rise", "area", "wood_above", "shoulder")),)),
    Card("accuracy", "How exactly it is set", (Group("accuracy", ()),)),
    Card("boards", "Boards that are sold", (Group("order", BOARDS, alone=True),)),
)


def shop_text(standing: Standing) -> str:
    """Return the cards of a shop as HTML."""
    cards = [_card(card, standing) for card in CARDS]
    return filled_cards([_of_units(standing), *cards], standing, is_shop=True)


def _card(card: Card, standing: Standing) -> dict[str, Any]:
    several = {"blades": "blades", "machine": "saws"}.get(card.name, "")
    tables = standing.data.get(several, []) + [standing.data.get(group.section) for group in card.groups]
    if several == "saws" and several in standing.data:
        saw, *others = card.groups
        card = replace(card, groups=(replace(saw, section=several, first=("name", *saw.first)), *others))
    said = [f"{name.replace('_', ' ')} {as_typed(value)}" for one in tables if one for name, value in one.items()]
    line = "; ".join(said[:4]).replace("\n", ", ") or "nothing is said"
    made = card_of(card, standing, {}, line=line)
    if card.name == "blades" and "blades" in standing.data:
        return made  # each of a list is whole
    forms = [replace(form, first=_optional(form.first), more=_optional(form.more)) for form in made["forms"]]
    return made | {"forms": forms}


def _optional(fields: tuple[Field, ...]) -> tuple[Field, ...]:
    """Return fields of which a shop may leave out any: a job may say it."""
    return tuple(replace(field, required=False) for field in fields)


def _of_units(standing: Standing) -> dict[str, Any]:
    """Return the card of what stands above all tables."""
    (path, values), *_ = UNITS.items()
    text = as_typed(value_at(standing.data, path))
    field = Field(
        path=path,
        label=path,
        help="in which a new job is begun",
        control="choice",
        text=text,
        usual="mm",
        choices=tuple((value, value) for value in values),
        before=as_typed(standing.changed[path]) if path in standing.changed else None,
    )
    form = Form("", "", (field,), ())
    return {
        "name": "units",
        "heading": "Units",
        "forms": [form],
        "parts": [form],
        "line": text or "mm",
        "refused": 0,
        "changed": int(path in standing.changed),
    }
