"""Random scenes that may well be legal: any key of the schema may turn up."""

from __future__ import annotations

import random
from typing import Any

from .drawings import damaged, random_drawing
from .values import angle, length, number, speed, words

WOODS = ["oak", "red oak", "beech", "hard maple", "pine", "walnut", "mahogany", "Sitka spruce", "unknown", "balsa"]

Table = dict[str, Any]
Files = dict[str, bytes]


def whole_scene(chance: random.Random, files: Files) -> Table:
    """Return the tables of a scene that may well be legal, any key of the schema among them; add the files it names."""

    def may(share: float = 0.5) -> bool:
        return chance.random() < share

    top = number(chance, 0.5, 30)
    thickness = top + number(chance, 0.5, 30)
    width, long = number(chance, 20, 200), number(chance, 40, 2500)
    lift = number(chance, 0.5, 8)
    table: Table = {"stock": {"length": f"{long} mm", "width": f"{width} mm", "thickness": f"{thickness} mm"}}
    table["stock"] |= _some(
        chance, species=chance.choice(WOODS), moisture=f"{number(chance, 4, 30):.4g} %", density="560 kg/m^3"
    )
    if may(0.7):
        table["title"] = words(chance)
    table["saw"] = {"speed": f"{number(chance, 1500, 7000):.6g} rpm"} | _some(
        chance,
        motor=chance.choice(["1.3 kW", "1.75 hp", "100 W"]),
        efficiency=round(chance.uniform(0.3, 1), 3),
        max_height=length(chance, top, 120),
        lift_per_turn=f"{lift:.6g} mm",
    )
    if int(width) % 3 == 0:  # nothing is drawn for it, so that seeds keep the scenes they are known for
        table["saw"]["name"] = ["by the door", "Nr. 2 <b>", "säge"][int(long) % 3]
    if may(0.4):
        table["saw"]["tilts"] = sorted([angle(chance, -45, 0), angle(chance, 0, 45)], key=lambda a: float(a.split()[0]))
    if may():
        table["saw"] |= _saw_table(chance)
    count = 1 if may(0.8) else chance.randint(2, 4)
    made = [
        blade(chance, top) | ({"name": f"blade {k}"} if count > 1 else _some(chance, name=words(chance)))
        for k in range(count)
    ]
    table |= {"blade": made[0]} if count == 1 else {"blades": made}
    several = may(0.15)
    set_up = not several and may(0.75)
    if several:
        table["setups"] = [one_of_several(chance, width, top, long, count) for _ in range(chance.randint(1, 4))]
    if set_up:
        table["setup"] = {"fence_angle": angle(chance, 1, 90), "blade_height": f"{top} mm"} | _some(
            chance,
            blade_tilt=angle(chance, -45, 45),
            offset=length(chance, -width / 3, width / 3),
            fence_side=chance.choice(["near", "far"]),
        )
        if count > 1:
            table["setup"]["blade"] = f"blade {chance.randrange(count)}"
    if set_up and may(0.7):
        table["passes"] = _passes(chance, top, long)
    if not (set_up or several) or may(0.6 if set_up else 0.05):
        table["target"] = target(chance, width, top, files)
    if may(0.6):
        grid = {"round_to": length(chance, 0.05, 2)} if may() else {"turn": f"1/{chance.randint(1, 32)}"}
        if "turn" in grid and "lift_per_turn" not in table["saw"]:
            grid = {}
        table["plan"] = grid | _some(
            chance,
            feed_speed=speed(chance),
            last_feed_speed=speed(chance),
            last_rise=length(chance, 0.05, 3),
            leave=length(chance, 0, 2),
            fence_side=chance.choice(["near", "far"]),
            most_setups=chance.randint(1, 5),
            set_fence=f"{number(chance, 0, 30):.3g} min",
            change_blade="4 min",
            change_tilt="90 s",
        )
    if may():
        table["limits"] = _limits(chance)
    if may(0.4):
        table["accuracy"] = _some(
            chance,
            tape=length(chance, 0.05, 5),
            fence_angle=angle(chance, 0.01, 2),
            blade_height=length(chance, 0.005, 1),
            blade_tilt=angle(chance, 0.01, 2),
            offset=length(chance, 0.005, 2),
            kerf=length(chance, 0.005, 0.4),
            measured=length(chance, 0.005, 1),
            seed=chance.randrange(2**32),
        )
    if may():
        table["finish"] = [operation(chance, width, thickness) for _ in range(chance.randint(1, 4))]
    if may():
        table["order"] = order(chance)
    if may(0.4):
        table["panel"] = _panel(chance)
        if "rectangle" in table.get("order", {}):
            table["panel"]["width"] = table["order"]["rectangle"][chance.randrange(2)]
    if may(0.3):
        table["sanding"] = _some(
            chance, paper=length(chance, 0.05, 2), block_length=length(chance, 20, 300), back=length(chance, 2, 60)
        )
    if may(0.3):
        table["fence"] = _some(
            chance, length=length(chance, 200, 1900), thickness=length(chance, 5, 80), height=length(chance, 10, 150)
        )
    if may(0.3):
        table["kept"] = {"date": f"2026-{chance.randint(1, 12):02}-{chance.randint(1, 28):02}"} | _some(
            chance, program="0.1.0", scene="a scene.toml", block=words(chance), notes=words(chance)
        )
        table["measured"] = [_measured(chance) for _ in range(chance.randint(0, 3))]
    return table


def _measured(chance: random.Random) -> Table:
    """Return what somebody measured on the wood."""
    points = [[number(chance, -50, 50), number(chance, 0, 20)] for _ in range(chance.randint(0, 20))]
    return {"width": length(chance, 5, 100)} | _some(
        chance,
        setup=chance.randint(1, 4),
        after_pass=chance.randint(1, 30),
        depth=length(chance, 1, 30),
        flat=length(chance, 1, 30),
        points=points,
        accuracy=length(chance, 0.01, 1),
    )


def blade(chance: random.Random, top: float) -> Table:
    """Return a flat, a bevelled or a shaped cutter that reaches well above the table."""
    table: Table = {"teeth": chance.choice([1, 2, 24, 40, 80, chance.randint(1, 500)])}
    if chance.random() < 0.2:
        radii = [number(chance, top + 25, top + 120) for _ in range(chance.randint(2, 6))]
        offsets = sorted(number(chance, -12, 12) for _ in radii)
        table["profile"] = [[a, r] for a, r in zip(offsets, radii, strict=True)]
    else:
        table |= {"diameter": length(chance, 2 * top + 40, 2 * top + 350), "kerf": length(chance, 0.8, 9)}
        if chance.random() < 0.4:
            table |= {"tip": "alternate bevel", "bevel": angle(chance, 0.5, 40)}
        elif chance.random() < 0.5:
            table["tip"] = "flat"
    return table | _some(
        chance,
        0.25,
        max_speed=f"{number(chance, 3000, 9000):.6g} rpm",
        plate=length(chance, 0.5, 4),
        collar=length(chance, 20, 150),
        gullet_depth=length(chance, 1, 30),
        runout=length(chance, 0.001, 0.5),
        wobble=length(chance, 0.001, 0.5),
    )


def target(chance: random.Random, width: float, top: float, files: Files) -> Table:
    """Return a target of any shape; a file of points or a drawing is added to `files`."""
    across = number(chance, width / 4, width)
    table: Table = _some(chance, across=length(chance, -10, 10), tolerance=length(chance, 0.02, 3))
    shape = chance.choice(["cove", "arc", "ellipse", "points"])
    depth: Table = {"depth": f"{min(top, across / 2)} mm"}
    table["shape"] = shape
    if shape != "points":
        marks: Table = {"shoulders": length(chance, 1, 0.6 * width)}
        sizes: Table = chance.choice([marks, {"width": f"{across} mm"}, {"width": f"{across} mm"}])
        if sizes is marks:
            table.pop("across", None)
        return table | sizes | chance.choice([{"wood_above": length(chance, 1, 2 * top)}, depth, depth])
    count = chance.choice([3, 5, 20, 200])
    steps = [k / (count - 1) for k in range(count)]
    if chance.random() < 0.3:
        table["whole"] = chance.random() < 0.8
        across = width
    points = [[round(across * (t - 0.5), 4), round(abs(4 * top * t * (1 - t)), 4)] for t in steps]
    if chance.random() < 0.5:
        return table | {"points": points}
    if chance.random() < 0.5:
        name, files_content = "points.csv", "".join(f"{y},{z}\n" for y, z in points).encode()
        if chance.random() < 0.3:
            files_content = damaged(chance, files_content)
    else:
        name, files_content = random_drawing(chance)
    files[name] = files_content
    return table | {"file": name}


def operation(chance: random.Random, width: float, thickness: float) -> Table:
    """Return an operation of `[[finish]]`, of a size that the stock may well have room for."""
    small = min(width, thickness) / 3
    edges = ["table left", "table right", "top left", "top right", "cove left", "cove right"]
    side = length(chance, -0.45 * width, 0.45 * width)

    def size() -> str:
        return length(chance, 0.05, small)

    table: Table = chance.choice(
        [
            {"do": "rip", "at": side}
            | _some(
                chance,
                tilt=angle(chance, -45, 45),
                keep=chance.choice(["both", "left", "right"]),
                kerf=length(chance, 0.5, 6),
            ),
            {"do": "round over", "edge": chance.choice(edges), "radius": size()},
            {"do": "chamfer", "edge": chance.choice(edges), "size": size()},
            {"do": "bevel", "spring": angle(chance, 5, 85), "wall_flat": size()}
            | _some(chance, ceiling_flat=size(), wall=chance.choice(["left", "right"])),
            {"do": "rabbet", "edge": chance.choice(edges[:4]), "width": size(), "depth": size()},
            {"do": "cove", "fence_angle": angle(chance, 2, 90), "blade_height": size()}
            | _some(
                chance,
                blade_tilt=angle(chance, -45, 45),
                offset=side,
                turn=chance.choice(["about its length", "end for end"]),
            ),
        ]
    )
    return table | _some(chance, 0.15, piece=chance.randint(1, 3))


def one_of_several(chance: random.Random, width: float, top: float, long: float, blades: int) -> Table:
    """Return a set-up of `[[setups]]`, of a size that the stock may well have room for."""
    side, tilt = length(chance, -width / 3, width / 3), angle(chance, -45, 45)
    passes = _some(chance, passes=_passes(chance, top, long))
    table: Table = chance.choice(
        [
            {"do": "cove", "fence_angle": angle(chance, 1, 90), "blade_height": f"{top} mm"}
            | passes
            | _some(chance, blade_tilt=tilt, offset=side, fence_side=chance.choice(["near", "far"])),
            {"do": "rip", "at": side}
            | (passes | {"blade_height": f"{top} mm"} if chance.random() < 0.5 else {})
            | _some(
                chance, blade_tilt=tilt, fence_side=chance.choice(["left", "right"]), keep=chance.choice(["one", "all"])
            ),
            {
                "do": "rabbet",
                "edge": chance.choice(["left", "right"]),
                "width": length(chance, 1, width / 3),
                "depth": length(chance, 1, top),
            },
        ]
    )
    return (
        table
        | ({"blade": f"blade {chance.randrange(blades)}"} if blades > 1 else {})
        | _some(
            chance,
            0.3,
            name=words(chance),
            face=chance.choice(["table", "top", "left edge", "right edge"]),
            ends=chance.choice(["as it lay", "end for end"]),
            fence=_some(
                chance,
                length=length(chance, 200, 1900),
                thickness=length(chance, 5, 80),
                height=length(chance, 10, 150),
            ),
        )
        | _some(chance, 0.05, piece=chance.randint(1, 2))
    )


def order(chance: random.Random) -> Table:
    """Return an order of lengths or of a rectangle."""
    if chance.random() < 0.6:
        table: Table = {"lengths": [length(chance, 50, 2400) for _ in range(chance.choice([1, 2, 5, 12, 40]))]}
    else:
        table = {"rectangle": [length(chance, 100, 1500), length(chance, 100, 1500)]} | _some(
            chance, wrap=chance.choice(["outside", "inside"]), sides=chance.choice([3, 4])
        )
    if chance.random() < 0.6:
        table["boards"] = [length(chance, 500, 5000) for _ in range(chance.choice([1, 2, 3, 8, 15]))]
        table |= _some(chance, board_width=length(chance, 30, 400))
    return table | _some(
        chance,
        0.3,
        copies=chance.choice([1, 2, 30]),
        spares=chance.randint(1, 4),
        setup_blocks=chance.randint(2, 5),
        setup_block_length=length(chance, 150, 400),
        allowance=length(chance, 6, 60),
        saw_kerf=length(chance, 0, 5),
        board_edge=length(chance, 0, 10),
        board_trim=length(chance, 0, 100),
        handling="20 s",
        reset="1.5 min",
    )


def _passes(chance: random.Random, top: float, long: float) -> Table:
    count = chance.choice([1, 2, 3, 8, 8, 25])
    heights = sorted({round(chance.uniform(0.02, top), 3) for _ in range(count - 1)} - {round(top, 3)})
    heights = [height for height in heights if height < top] + [top]
    table = {"heights": [f"{height} mm" for height in heights], "feed_speed": speed(chance)}
    if chance.random() < 0.3:
        stops = [chance.choice(["through", f"{number(chance, 1, long):.6g} mm"]) for _ in heights]
        table["stop"] = stops if chance.random() < 0.5 else stops[0]
    if chance.random() < 0.1:
        table["feeds"] = [speed(chance) for _ in heights]
    return table | _some(chance, last_feed_speed=speed(chance))


def _saw_table(chance: random.Random) -> Table:
    deep, wide = number(chance, 400, 900), number(chance, 400, 1900)
    table: Table = {
        "table_depth": f"{deep} mm",
        "table_width": f"{wide} mm",
        "front_to_blade": f"{deep * chance.uniform(0.1, 0.9):.1f} mm",
        "left_to_blade": f"{wide * chance.uniform(0.1, 0.9):.1f} mm",
    }
    if chance.random() < 0.5:
        table |= {"throat_length": length(chance, 100, 500), "throat_width": length(chance, 10, 120)}
    if chance.random() < 0.5:
        table["slots"] = [length(chance, -300, -20), length(chance, 20, 300)][: chance.randint(1, 2)]
    return table | _some(
        chance,
        throat_thickness=length(chance, 1, 20),
        support_before=length(chance, 0, 1500),
        support_after=length(chance, 0, 1500),
    )


def _limits(chance: random.Random) -> Table:
    return _some(
        chance,
        rise=length(chance, 0.3, 10),
        chip_thickness=length(chance, 0.01, 1),
        area=f"{number(chance, 10, 500):.5g} mm^2",
        wood_above=length(chance, 0, 20),
        shoulder=length(chance, 0, 20),
        contact=length(chance, 0, 60),
        stock_length=length(chance, 0, 600),
        stock_width=length(chance, 0, 100),
        stock_thickness=length(chance, 0, 40),
        fence_angle=f"{chance.uniform(1, 90):.4g} deg",
        rim_speed=f"{number(chance, 20, 120):.4g} m/s",
        push=chance.choice(["90 N", "20 lbf"]),
        side_deflection=length(chance, 0.01, 2),
        gullet_fill=round(chance.uniform(0.05, 1), 3),
        thin_chip=length(chance, 0.0005, 0.05),
        finish_wood=length(chance, 0, 10),
    )


def _panel(chance: random.Random) -> Table:
    dry, damp = sorted(round(chance.uniform(0, 30), 1) for _ in range(2))
    return {
        "species": chance.choice(WOODS),
        "width": length(chance, 50, 1900),
        "moisture": [f"{dry} %", f"{damp} %"],
        "moisture_at_fitting": f"{chance.uniform(dry, damp):.3g} %",
    } | _some(
        chance,
        grain=chance.choice(["radial", "tangential"]),
        fixed=chance.choice(["centre", "edge"]),
        lip=length(chance, 0, 30),
        gap=length(chance, 0, 30),
    )


def _some(chance: random.Random, share: float = 0.5, **values: Any) -> Table:
    """Return each of the values with the chance `share`."""
    return {key: value for key, value in values.items() if chance.random() < share}
