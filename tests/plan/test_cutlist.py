"""The cut list: never short, mitres that close, time that adds up, and one sentence where it cannot be done."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter

import pytest
import shapely
from demos import cornice_with
from hypothesis import given
from hypothesis import strategies as st
from strategies import between, fewer

from sweep.cut.job import Job, simulate
from sweep.cut.mitre import wrapped
from sweep.errors import SceneError
from sweep.plan import boards
from sweep.plan.cutlist import CutList, cut_list, pieces_of
from sweep.scene.order import Order
from sweep.scene.read import scene_from
from sweep.show.say.numbers.order import cut_list_numbers
from sweep.show.say.order import blanks_sentences, boards_sentences
from sweep.tolerance import Fineness
from sweep.units import Units

COARSE = Fineness(chord=0.05, section_chord=0.01, sample=1.0, angles=64)


@pytest.fixture(scope="module")
def job() -> Job:
    """The demo scene, cut."""
    return simulate(scene_from(cornice_with()), COARSE)


def listed(job: Job, stock_length: float = 900.0, **order: object) -> CutList:
    """The cut list of the demo scene with this order, in mm where it is a number."""
    written = {key: f"{value} mm" if isinstance(value, float) else value for key, value in order.items()}
    stock = job.scene.stock.model_copy(update={"length": stock_length})
    scene = job.scene.model_copy(update={"stock": stock, "order": Order.model_validate(written)})
    return cut_list(dataclasses.replace(job, scene=scene))


@st.composite
def orders(draw: st.DrawFn) -> dict[str, object]:
    """Lengths or a rectangle, with every other key that says how it is cut."""
    order: dict[str, object] = {
        "copies": draw(st.integers(1, 3)),
        "spares": draw(st.integers(1, 3)),
        "setup_blocks": draw(st.integers(2, 4)),
        "setup_block_length": draw(between(150, 400)),
        "allowance": draw(between(5, 30)),
        "saw_kerf": draw(st.sampled_from([1.6, 2.4, 3.2])),
        "boards": [f"{length} mm" for length in draw(st.lists(between(1600, 4000), min_size=1, max_size=3))],
        "board_trim": draw(between(0, 50)),
        "board_edge": draw(between(0, 3)),
    }
    if draw(st.booleans()):
        order["board_width"] = draw(between(95, 320))
    sides = st.integers(100, 1300).map(lambda mm: f"{mm} mm")
    if draw(st.booleans()):
        order["lengths"] = draw(st.lists(sides, min_size=1, max_size=12))
    else:
        order |= {"rectangle": draw(st.tuples(sides, sides)), "sides": draw(st.sampled_from([3, 4]))}
        order["wrap"] = draw(st.sampled_from(["outside", "inside"]))
    return order


@given(order=orders())
@fewer(1 / 20)
def test_nothing_is_short_and_nothing_is_forgotten(job, order):
    """Every piece with its allowances in one blank; every blank, spare and block in one board; kerfs and ends count."""
    cut = listed(job, 1400.0, **order)
    kerf, trim = order["saw_kerf"], order["board_trim"]

    for bar in cut.blanks:
        (strip,) = bar.strips
        assert sum(part.length for part in strip) + kerf * (len(strip) - 1) <= 1400 + 1e-6
    in_blanks = Counter(part for bar in cut.blanks for strip in bar.strips for part in strip)
    assert Counter((piece.rough, piece.name) for piece in cut.pieces) == Counter(
        {(part.length, part.name): count for part, count in in_blanks.items()}
    )
    for piece in cut.pieces:
        assert piece.rough == pytest.approx(piece.length + 2 * order["allowance"])
        assert piece.length >= piece.inner_length > 0
    sold = {float(text.removesuffix(" mm")) for text in order["boards"]}
    for length, board in zip(cut.board_lengths, cut.boards, strict=True):
        assert any(length == pytest.approx(one) for one in sold)
        strips = len(board.strips)
        wide = strips * (92 + 2 * order["board_edge"]) + (strips - 1) * kerf if strips > 1 else 92
        assert wide <= order.get("board_width", 92) + 1e-6
        for strip in board.strips:
            used = sum(part.length for part in strip) + kerf * (len(strip) - 1)
            assert used + 2 * trim <= length + 1e-6
    in_boards = Counter(part.name for board in cut.boards for strip in board.strips for part in strip)
    assert in_boards == {"blank": len(cut.blanks), "spare": order["spares"], "set-up block": order["setup_blocks"]}
    assert cut.passed == len(cut.blanks) + order["spares"]


@given(
    front=between(200, 900),
    side=between(200, 900),
    projection=between(5, 90),
    wrap=st.sampled_from(["outside", "inside"]),
)
@fewer(1 / 8)
def test_mitred_pieces_close_round_the_rectangle(front, side, projection, wrap):
    """Laid round it as trapezia they leave no gap and no overlap: a ring between two rectangles, seen from above."""
    order = Order.model_validate({"rectangle": [f"{front} mm", f"{side} mm"], "wrap": wrap})
    pieces = pieces_of(order, projection)
    out = 1 if wrap == "outside" else -1
    laid = []
    for quarter, piece in enumerate(pieces):
        away = (side, front, side, front)[quarter] / 2
        on_line, beyond = (piece.inner_length, piece.length) if out > 0 else (piece.length, piece.inner_length)
        trapezium = shapely.Polygon(
            [
                (-on_line / 2, away),
                (on_line / 2, away),
                (beyond / 2, away + out * projection),
                (-beyond / 2, away + out * projection),
            ]
        )
        laid.append(shapely.transform(trapezium, lambda xy, n=quarter: turned(xy, n)))
    ring = shapely.symmetric_difference(
        shapely.box(-front / 2, -side / 2, front / 2, side / 2),
        shapely.box(*(s * (x / 2 + out * projection) for s, x in ((-1, front), (-1, side), (1, front), (1, side)))),
    )

    assert sum(shapely.area(laid)) == pytest.approx(ring.area)
    assert shapely.union_all(laid, grid_size=1e-6).symmetric_difference(ring).area < 1e-3


def turned(points, quarters: int):
    """Points turned to the left by right angles."""
    for _ in range(quarters):
        points = points[:, ::-1] * (-1, 1)
    return points


@pytest.mark.parametrize("wrap", ["outside", "inside"])
@pytest.mark.parametrize("sides", [3, 4])
def test_pieces_are_as_long_as_the_sides_of_the_mitred_solid(wrap, sides):
    """For a moulding sprung at 38 deg: the longest of each mesh along its side."""
    finish = [{"do": "bevel", "spring": "38 deg", "wall_flat": "12 mm"}]
    table = cornice_with(finish=finish)
    table["order"] = {"rectangle": ["600 mm", "320 mm"], "wrap": wrap, "sides": sides}
    job = simulate(scene_from(table), COARSE)
    meshes = wrapped(job.scene, job.pieces)
    long = sorted(
        float(mesh.vertices[:, axis].max() - mesh.vertices[:, axis].min())
        for mesh, axis in zip(meshes, (0, 1, 0, 1) if sides == 4 else (0, 1, 1), strict=True)
    )

    assert sorted(piece.length for piece in job_pieces(job)) == pytest.approx(long, abs=0.05)


def job_pieces(job: Job):
    """The pieces of a job's order, of a blank that is long enough."""
    stock = job.scene.stock.model_copy(update={"length": 1400.0})
    return cut_list(dataclasses.replace(job, scene=job.scene.model_copy(update={"stock": stock}))).pieces


def test_a_rip_that_makes_two_mouldings_halves_the_blanks(job):
    """Mirror halves are one moulding; a strip that is kept beside it is not."""

    def blanks(*finish: dict) -> list[int]:
        table = cornice_with(finish=list(finish), order={"lengths": ["850 mm"] * 6})
        return [len(bar.strips) for bar in cut_list(simulate(scene_from(table), COARSE)).blanks]

    assert blanks() == [1] * 6
    assert blanks({"do": "rip", "at": "0 mm"}) == [2] * 3
    assert blanks({"do": "rip", "at": "38 mm"}) == [1] * 6


def test_the_time_at_the_saw_adds_up(job):
    """Eight passes of 3 blanks, each fed its length and the rim's at 28 deg; 20 s a blank, 90 s a pass."""
    seconds = 0.0
    for height in (2.4, 4.8, 7, 9, 11, 13, 15, 16):
        deep = height + 1  # the rim is drawn from 1 mm below the table, and the stock starts and ends 1 mm clear of it
        half = math.sqrt(254 * deep - deep**2) * math.cos(math.radians(28)) + 1.6 * math.sin(math.radians(28)) + 1
        speed = 1000 / 60 if height == 16 else 2000 / 60
        seconds += 90 + 3 * ((900 + 2 * half) / speed + 20)

    assert listed(job, lengths=["850 mm", "850 mm"]).seconds == pytest.approx(seconds, rel=1e-3)


@pytest.mark.parametrize(
    ("order", "says"),
    [
        ({"lengths": ["881 mm"]}, "stock.length: 900 mm is too short a blank for piece 1, which is cut off at 901 mm"),
        ({"rectangle": ["840 mm", "100 mm"]}, "stock.length: 900 mm is too short a blank for front, .* 905 mm"),
        ({"rectangle": ["600 mm", "45 mm"], "wrap": "inside"}, "order.rectangle: a side of 45 mm is too short"),
        ({"lengths": ["800 mm"], "boards": ["939 mm"]}, "order.boards: none is long enough for 900 mm and 20 mm off"),
        ({"lengths": ["800 mm"], "boards": ["2 m"], "board_width": "91 mm"}, "order.board_width: 91 mm is narrower"),
        ({"lengths": [f"{100 + n} mm" for n in range(40)]}, "order.lengths: there are more than 20000 ways"),
        (
            {"lengths": ["800 mm"] * 90, "setup_blocks": 90, "boards": ["15 m", "16 m"], "board_width": "900 mm"},
            "order.boards: there are more than 20000 ways to cut bars of 9 strips; name fewer lengths",
        ),
    ],
)
def test_an_order_that_cannot_be_cut_is_refused_in_one_sentence(job, order, says):
    """Naming the field."""
    with pytest.raises(SceneError, match=says):
        listed(job, **order)


def test_pieces_of_a_cove_that_stops_are_not_listed():
    """Crosscut, they would show where it stops."""
    table = cornice_with(order={"lengths": ["400 mm"]})
    table["passes"]["stop"] = "700 mm"

    with pytest.raises(SceneError, match="order: the passes stop part-way"):
        cut_list(simulate(scene_from(table), COARSE))


@pytest.mark.parametrize(
    ("order", "says"),
    [
        ({}, "order: nothing is ordered"),
        ({"lengths": ["1 m"], "rectangle": ["1 m", "1 m"]}, "order: both lengths and a rectangle are ordered"),
        ({"lengths": ["1 m"], "spares": 0}, "order.spares: there is none; write at least 1"),
        ({"lengths": ["1 m"], "setup_blocks": 1}, "order.setup_blocks: 1 is too few; write at least 2"),
        (
            {"lengths": ["1 m"], "setup_block_length": "149 mm"},
            "order.setup_block_length: '149 mm' is less than 150 mm",
        ),
        ({"lengths": ["1 m"], "allowance": "3 mm"}, "order.allowance: 3 mm leaves no room for the last cut"),
        ({"rectangle": ["1 m", "1 m"], "allowance": "4.5 mm"}, "order.allowance: 4.5 mm leaves no room .* 4.526 mm"),
        ({"lengths": ["1 m"], "board_width": "200 mm"}, "order.boards: they are missing"),
        ({"rectangle": ["1 m"]}, "order.rectangle"),
        ({"lengths": ["1 m"], "sides": 2}, "order.sides: '2' is not known here"),
        ({"lengths": ["1 m"], "handling": "20"}, "order.handling: '20' has no unit"),
    ],
)
def test_an_order_that_makes_no_sense_is_refused_in_one_sentence(order, says):
    """As it is read."""
    with pytest.raises(SceneError, match=says):
        scene_from(cornice_with(order=order))


def test_six_inches_are_long_enough_for_a_set_up_block():
    """152.4 mm."""
    scene = scene_from(cornice_with(order={"lengths": ["1 m"], "setup_block_length": "6 in"}))

    assert scene.order.setup_block_length == pytest.approx(152.4)


def test_boards_are_bought_by_width_and_shorter_blanks_by_what_they_save(job):
    """As a timber yard names them; the sentence is for blanks that still give all the pieces."""
    cut = listed(job, 1500.0, lengths=["1400 mm"] * 3, boards=["3 m"], board_width=120.0)
    long = listed(job, 1500.0, lengths=["1470 mm"] * 3, boards=["3 m"], board_width=120.0)
    paired = listed(job, 1500.0, lengths=["725 mm"] * 6, boards=["3 m"], board_width=120.0)
    feet = listed(job, 1524.0, lengths=["4 ft"] * 3, boards=["10 ft"], board_width=152.4)
    said = " ".join(boards_sentences(job.scene, cut, Units()))

    assert said.startswith("Buy 4 x 3 m, 120.0 mm wide, to be planed to 92.0 mm by 22.5 mm: together 12 m, the least")
    assert "Blanks of 1478.4 mm, as many for the same pieces, would come out of 3 x 3 m: 1 board fewer, 3 m" in said
    assert long.shorter is None  # 1490 mm of each blank are needed
    assert (len(paired.blanks), paired.shorter) == (3, None)  # two of 745 mm and a kerf: shorter blanks would be six
    assert "Buy 4 x 10 ft, 6 in wide, to be planed" in boards_sentences(job.scene, feet, Units("in"))[0]


def test_a_list_that_is_only_the_best_found_is_never_called_the_least(job, monkeypatch):
    """In words, as the terminal and the sheet have them, and in the result's figures."""
    monkeypatch.setattr(boards, "MOST_SECONDS", 0.0)
    sizes = {"lengths": [f"{310 + 41 * n} mm" for n in range(9)], "boards": [f"{1900 + 137 * n} mm" for n in range(9)]}
    boards._cut_from.cache_clear()
    hasty = dataclasses.replace(
        job, scene=job.scene.model_copy(update={"order": Order.model_validate({"allowance": "5 mm", **sizes})})
    )
    cut, units = cut_list(hasty), Units()
    said = " ".join([*blanks_sentences(cut, units), *boards_sentences(hasty.scene, cut, units)])
    figures = cut_list_numbers(cut)
    boards._cut_from.cache_clear()

    assert said.count("best found") == 2
    assert "the least" not in said
    assert (figures.blanks_are_fewest, figures.boards_are_least) == (False, False)
