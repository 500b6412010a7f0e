"""Drawings that were not made to be read: by hand, and random ones."""

from __future__ import annotations

import random

SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"{}>{}</svg>'


def svg(inside: str, attributes: str = "") -> bytes:
    """Return an SVG drawing."""
    return SVG.format(attributes, inside).encode()


def dxf(*entities: str, units: int = 4, times: int = 1) -> bytes:
    """Return the least DXF that a reader takes, with entities, so many times, as ``"0 LINE 8 0 10 1.0 ..."``."""
    head = f"0 SECTION 2 HEADER 9 $ACADVER 1 AC1009 9 $INSUNITS 70 {units} 0 ENDSEC 0 SECTION 2 ENTITIES"
    first, every, last = (
        "".join(f"{tag}\n" for tag in tags.split()) for tags in (head, " ".join(entities), "0 ENDSEC 0 EOF")
    )
    return (first + every * times + last).encode()


def circle_of(radius: str) -> str:
    """Return an arc's tags."""
    return f"0 ARC 8 0 10 0 20 0 30 0 40 {radius} 50 10 51 170"


def nested(depth: int, each: int) -> str:
    """Return groups that each use the one before several times."""
    levels = ['<path id="u0" d="M0 0L9 9"/>']
    for level in range(1, depth + 1):
        levels.append(f'<g id="u{level}">' + f'<use href="#u{level - 1}"/>' * each + "</g>")
    return f"<defs>{''.join(levels[:-1])}</defs>{levels[-1]}"


LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {new} "{f"&{old};" * 10}">' for old, new in zip("abcdefghi", "bcdefghij", strict=True))
    + ']><svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L9 9"/><title>&j;</title></svg>'
)
OUTSIDE = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
    '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L9 9"/><title>&a;</title></svg>'
)
POLY = "0 POLYLINE 8 0 66 1 10 0 20 0 30 0 70 0 "

HOSTILE = {
    "laughs.svg": LAUGHS.encode(),
    "laughs-utf16.svg": LAUGHS.replace("?>", ' encoding="UTF-16"?>', 1).encode("utf-16"),
    "outside.svg": OUTSIDE.encode(),
    "outside-parameter.svg": OUTSIDE.replace("ENTITY a", "ENTITY % a").replace("&a;", "").encode(),
    "uses.svg": svg(nested(8, 10)),
    "uses-itself.svg": svg('<g id="a"><use href="#a"/></g>'),
    "uses-each-other.svg": svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'),
    "deep.svg": svg("<g>" * 20_000 + "</g>" * 20_000),
    "deep-use.svg": svg(nested(3_000, 1)),
    "many.svg": svg('<path d="M0 0L9 9"/>' * 180_000),
    "many-curves.svg": svg(f'<path d="M0 0{"C0 1e4 1e4 1e4 9 9" * 200_000}"/>'),
    "large.svg": svg(" " * 4_000_001),
    "far-arc.svg": svg('<path d="M0 0A1e14 1e14 0 0 1 1 1"/>'),
    "far-circle.svg": svg('<circle r="1e14"/>'),
    "far-curve.svg": svg('<path d="M0 0C1e30 1e30 -1e30 5 1 1"/>'),
    "endless-number.svg": svg('<path d="M0 0L1e999 9"/>'),
    "not-a-number.svg": svg('<path d="M0 0Lnan nan"/>'),
    "half-path.svg": svg('<path d="M0 0L"/>'),
    "no-move.svg": svg('<path d="L9 9C"/>'),
    "only-close.svg": svg('<path d="Z"/>'),
    "closed-first.svg": svg('<path d="ZM0 0L9 9Z"/>'),
    "half-arc.svg": svg('<path d="M0 0A 1 1 0 2 2 9 9A"/>'),
    "no-radius.svg": svg('<path d="M0 0A0 0 0 0 1 9 9"/>'),
    "words-for-numbers.svg": svg('<rect x="left" y="top" width="wide" height="high"/>'),
    "half-points.svg": svg('<polyline points="0,0 1"/>'),
    "no-points.svg": svg('<polyline points=""/><polygon points="x"/>'),
    "bad-transform.svg": svg('<g transform="matrix(1,2)"><path d="M0 0L9 9"/></g>'),
    "large-transform.svg": svg('<g transform="scale(1e300)scale(1e300)"><path d="M0 0L9 9"/></g>'),
    "nan-transform.svg": svg('<g transform="scale(nan)rotate(inf)"><path d="M0 0L9 9"/></g>'),
    "flat-transform.svg": svg('<g transform="scale(0)"><path d="M0 0L9 9"/></g>'),
    "odd-view.svg": svg('<path d="M0 0L9 9"/>', ' viewBox="0 0 0 0" width="9mm" height="0"'),
    "wordy-view.svg": svg('<path d="M0 0L9 9"/>', ' viewBox="a b c" width="x" height="%"'),
    "endless-view.svg": svg('<path d="M0 0L9 9"/>', ' viewBox="0 0 1e-300 1e-300" width="1e300mm"'),
    "bad-style.svg": svg('<style>@import url("file:///etc/passwd"); {{{ </style><path style=":;:" d="M0 0L9 9"/>'),
    "script.svg": svg('<script>while(1);</script><path d="M0 0L9 9" onload="x()"/>'),
    "picture.svg": svg('<image href="file:///etc/passwd"/><image href="data:image/png;base64,A"/>'),
    "picture-far.svg": svg('<image href="http://127.0.0.1:9/x.png" width="9" height="9"/>'),
    "words.svg": svg('<text x="1 2 3">[bold]{{data}}</text>'),
    "marks.svg": b'\xef\xbb\xbf<?xml version="1.0" encoding="klingon"?><svg/>',
    "nothing.svg": b"",
    "nought.svg": b"\0" * 1000,
    "other.svg": b"<html><body>no</body></html>",
    "unclosed.svg": b"<svg><path d='M0 0L9 9'/>",
    "two.svg": b"<svg/><svg/>",
    "a.pdf.svg": b"%PDF-1.7\n",
    "huge-attribute.svg": svg(f'<path d="{"M0 0" + "L9 9" * 900_000}"/>'),
    "digits.svg": svg(f'<path d="M0 0L{"9" * 1_000_000} 1"/>'),
    "arc.dxf": dxf(circle_of("1e14")),
    "endless-arc.dxf": dxf(circle_of("1e999")),
    "nan-arc.dxf": dxf(circle_of("nan")),
    "below-nothing-arc.dxf": dxf(circle_of("-5")),
    "wordy-arc.dxf": dxf(circle_of("wide")),
    "point-arc.dxf": dxf("0 ARC 8 0 10 0 20 0 30 0 40 5 50 10 51 10"),
    "turning-arc.dxf": dxf("0 ARC 8 0 10 0 20 0 30 0 40 5 50 -1e300 51 1e300"),
    "line-of-nan.dxf": dxf("0 LINE 8 0 10 nan 20 0 30 0 11 inf 21 2 31 0"),
    "half-line.dxf": dxf("0 LINE 8 0 10"),
    "no-ends.dxf": dxf("0 LINE 8 0"),
    "far-line.dxf": dxf("0 LINE 8 0 10 0 20 0 30 0 11 1e300 21 2 31 0"),
    "light-years.dxf": dxf("0 LINE 8 0 10 0 20 0 30 0 11 5 21 2 31 0", units=19),
    "odd-units.dxf": dxf("0 LINE 8 0 10 0 20 0 30 0 11 5 21 2 31 0", units=99),
    "far-units.dxf": dxf(circle_of("1"), units=20),
    "unended-polyline.dxf": dxf(POLY + "0 VERTEX 8 0 10 0 20 0 30 0"),
    "empty-polyline.dxf": dxf(POLY + "0 SEQEND 8 0"),
    "bulge.dxf": dxf(
        POLY + "0 VERTEX 8 0 10 0 20 0 30 0 42 1e14 0 VERTEX 8 0 10 9 20 0 30 0 42 1e-300 "
        "0 VERTEX 8 0 10 99 20 0 30 0 0 SEQEND 8 0"
    ),
    "stray-vertex.dxf": dxf("0 VERTEX 8 0 10 0 20 0 30 0 0 SEQEND 8 0"),
    "ellipse.dxf": dxf("0 ELLIPSE 5 1F 8 0 10 0 20 0 30 0 11 0 21 0 31 0 40 1e300 41 0 42 1e9"),
    "flat-ellipse.dxf": dxf("0 ELLIPSE 5 1F 8 0 10 0 20 0 30 0 11 9 21 0 31 0 40 0 41 0 42 3"),
    "spline.dxf": dxf("0 SPLINE 5 1F 8 0 70 8 71 3 72 0 73 0 74 0"),
    "spline-knots.dxf": dxf("0 SPLINE 5 1F 8 0 70 8 71 3 72 8 73 4 40 0 40 0 40 5 40 1 10 0 20 0 30 0 10 1 20 1 30 0"),
    "spline-degree.dxf": dxf("0 SPLINE 5 1F 8 0 70 8 71 999999 72 8 73 4 40 0 40 1 10 0 20 0 30 0 10 1 20 1 30 0"),
    "spline-weights.dxf": dxf(
        "0 SPLINE 5 1F 8 0 70 12 71 1 72 4 73 2 40 0 40 0 40 1 40 1 41 0 41 0 10 0 20 0 30 0 10 1 20 1 30 0"
    ),
    "sideways.dxf": dxf(circle_of("5") + " 210 0 220 0 230 0"),
    "same-handles.dxf": dxf("0 LINE 5 1 8 0 10 0 20 0 11 5 21 1 0 LINE 5 1 8 0 10 0 20 0 11 5 21 1"),
    "many.dxf": dxf("0 LINE 8 0 10 0 20 0 11 5 21 1", times=110_000),
    "many-arcs.dxf": dxf(circle_of("99999"), times=60_000),
    "large.dxf": b"999\nx\n" * 800_000,
    "no-end.dxf": dxf(circle_of("5"))[:-14],
    "half-tag.dxf": b"0\nSECTION\n2",
    "no-sections.dxf": b"0\nEOF\n",
    "sections-in-sections.dxf": b"0\nSECTION\n2\nENTITIES\n" * 9_000 + b"0\nEOF\n",
    "odd-section.dxf": b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nSECTION\n2\nHEADER\n0\nLINE\n0\nENDSEC\n0\nEOF\n",
    "code-of-words.dxf": dxf("zero LINE 8 0"),
    "large-code.dxf": dxf("99999999999999999999 LINE 8 0"),
    "version.dxf": dxf().replace(b"AC1009", b"AC9999"),
    "old-version.dxf": dxf().replace(b"AC1009", b"AC1"),
    "no-text.dxf": bytes(range(256)) * 40,
    "binary.dxf": b"AutoCAD Binary DXF\r\n\x1a\x00" + b"\xff" * 400,
    "binary-half.dxf": b"AutoCAD Binary DXF\r\n\x1a\x00\x00",
    "nothing.dxf": b"",
    "nought.dxf": b"\0" * 1000,
    "a.dwg.dxf": b"AC1032" + b"\0" * 100,
    "an-svg.dxf": svg('<path d="M0 0L9 9"/>'),
}
"""By hand: names of files and what is in them. Some hold a line that can be read; none may do anything else."""


def random_drawing(chance: random.Random) -> tuple[str, bytes]:
    """Return the name and the content of a random drawing: one made by hand, or of odd numbers, then damaged."""
    kind = chance.random()
    if kind < 0.15:
        name = chance.choice([name for name, content in HOSTILE.items() if len(content) < 200_000])
        content = HOSTILE[name]
    elif kind < 0.55:
        name, content = "random.svg", svg("".join(_shape(chance) for _ in range(chance.randint(1, 6))), _view(chance))
    else:
        name, content = (
            "random.dxf",
            dxf(*[_entity(chance) for _ in range(chance.randint(1, 6))], units=chance.choice([0, 1, 4, 5, 6, 21])),
        )
    if chance.random() < 0.4:
        content = damaged(chance, content)
    return name, content


def damaged(chance: random.Random, content: bytes) -> bytes:
    """Return content with a few stretches left out, doubled or changed."""
    for _ in range(chance.randint(1, 5)):
        start = chance.randint(0, len(content))
        end = min(len(content), start + chance.choice([1, 1, 2, 5, 30]))
        new = chance.choice([b"", content[start:end] * 2, bytes([chance.randint(0, 255)]), b"9", b"-", b"\n", b"e9"])
        content = content[:start] + new + content[end:]
    return content


def _number(chance: random.Random) -> str:
    if chance.random() < 0.08:
        return chance.choice(["0", "-0", "1e999", "nan", "1e-320", "1e14", "-1", "", "x", "99999", "1e5"])
    return f"{chance.uniform(-60, 60):.{chance.randint(0, 6)}f}"


def _shape(chance: random.Random) -> str:
    def some(count: int) -> str:
        return " ".join(_number(chance) for _ in range(count))

    if chance.random() < 0.6:
        counts = {"M": 2, "L": 2, "C": 6, "Q": 4, "A": 0, "H": 1, "V": 1, "S": 4, "T": 2, "Z": 0}
        path = f"M{some(2)}"
        for letter in chance.choices(list(counts), k=chance.randint(1, 8)):
            wanted = f"{some(3)} {chance.randint(0, 1)} {chance.randint(0, 1)} {some(2)}" if letter == "A" else ""
            path += chance.choice([letter, letter.lower()]) + (wanted or some(counts[letter]))
        shape = f'<path d="{path}"/>'
    else:
        shape = chance.choice(
            [
                f'<polyline points="{some(2 * chance.randint(1, 9))}"/>',
                f'<ellipse cx="{some(1)}" cy="{some(1)}" rx="{some(1)}" ry="{some(1)}"/>',
                f'<rect x="{some(1)}" y="{some(1)}" width="{some(1)}" height="{some(1)}" rx="{some(1)}"/>',
                f'<line x1="{some(1)}" y1="{some(1)}" x2="{some(1)}mm" y2="{some(1)}%"/>',
            ]
        )
    if chance.random() < 0.3:
        how = chance.choice([f"rotate({some(1)})", f"scale({some(2)})", f"matrix({some(6)})", f"skewX({some(1)})"])
        shape = f'<g transform="{how}">{shape}</g>'
    return shape


def _view(chance: random.Random) -> str:
    if chance.random() < 0.5:
        return ""
    return (
        f' width="{_number(chance)}mm" height="{_number(chance)}in" viewBox="0 0 {_number(chance)} {_number(chance)}"'
    )


def _entity(chance: random.Random) -> str:
    def tags(*codes: int) -> str:
        return " ".join(f"{code} {_number(chance) or 0}" for code in codes)

    def vertices(start: str, count: int) -> str:
        return " ".join(f"{start}{tags(10, 20, 30, 42)}" for _ in range(count))

    count = chance.randint(0, 7)
    knots = " ".join(f"40 {max(0, k - 3)}" for k in range(count + 4))
    points = " ".join(tags(10, 20, 30) for _ in range(count))
    return chance.choice(
        [
            f"0 LINE 8 0 {tags(10, 20, 30, 11, 21, 31)}",
            f"0 ARC 8 0 {tags(10, 20, 30, 40, 50, 51)}",
            f"0 ELLIPSE 8 0 {tags(10, 20, 30, 11, 21, 31, 40, 41, 42)}",
            POLY + vertices("0 VERTEX 8 0 ", count) + " 0 SEQEND 8 0",
            f"0 LWPOLYLINE 8 0 90 {count} 70 {chance.randint(0, 1)} {vertices('', count)}",
            f"0 SPLINE 8 0 70 8 71 {chance.randint(0, 5)} 72 {count + 4} 73 {count} {knots} {points}",
        ]
    )
