"""The bytes and the text of a file that the user names, within bounds."""

from __future__ import annotations

from pathlib import Path

from sweep.errors import SceneError

MOST_BYTES = 1_000_000
"""The largest scene or file of points that is read: hundreds of times what is written by hand."""

OTHER_KINDS = {
    b"%PDF": "a PDF document",
    b"AC10": "a DWG drawing",
    b"PK\x03\x04": "a zip archive or an office document",
    b"\x89PNG": "a PNG picture",
    b"\xff\xd8\xff": "a JPEG picture",
    b"GIF8": "a GIF picture",
    b"\x1f\x8b": "a gzip archive",
}
"""How files begin that are taken for a scene, points or a drawing by mistake."""


def read_bytes(path: Path, what: str, most: int = MOST_BYTES) -> bytes:
    """Return what a file holds, at most `most` bytes; `what` names what is wanted instead when it is not one.

    Raises
    ------
    SceneError
        When there is no such file, it is too large, it cannot be read, or it begins as one of `OTHER_KINDS` does.
    """
    remedy = f"give the path of {what}"
    try:
        if not path.exists():
            raise SceneError(str(path), "there is no such file", remedy)
        if not path.is_file():
            raise SceneError(str(path), "this is not a file", remedy)
        with path.open("rb") as file:
            content = file.read(most + 1)  # a size may be untrue, as those below /proc are
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or "its name is none that a file can have"
        raise SceneError(str(path), f"it cannot be read ({reason})", remedy) from None
    if len(content) > most:
        raise SceneError(str(path), f"the file is larger than {most // 1_000_000} MB", f"give {what}")
    for start, kind in OTHER_KINDS.items():
        if content.startswith(start):
            raise SceneError(str(path), f"this is {kind}", remedy)
    return content


def read_text(path: Path, what: str) -> str:
    """Return what a small text file holds; `what` names what is wanted instead when it is not one.

    Raises
    ------
    SceneError
    """
    try:
        text = read_bytes(path, what).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise SceneError(str(path), "this is not text in UTF-8", f"give the path of {what}") from None
    if "\0" in text:
        raise SceneError(str(path), "this is not text", f"give the path of {what}")
    return text
