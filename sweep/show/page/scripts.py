"""The page's script as one module: each module of `parts/` comes after those that it imports.

So the page is one file and nothing has to be built, and its policy can name the script by its digest. Each module keeps
its names to itself, as in a browser that reads the files one by one. What is there for readers only is not sent.
"""

from __future__ import annotations

import re
from collections.abc import Callable

IMPORT = re.compile(r'^import \{([^}]*)\} from "\./([a-z_]+)\.js";\n', re.MULTILINE)
COMMENT = re.compile(r"^[ \t]*(?://[^\n]*|/\*\*(?:(?!\*/).)*\*/[ \t]*)\n", re.MULTILINE | re.DOTALL)
CAST = re.compile(r"/\*\* @type \{[^*\n]*\} \*/ ?")
LATER = re.compile(r" // [^\"'`\n]*$", re.MULTILINE)
EXPORT = re.compile(r"^export ((?:async )?(?:function|class|const)) (\w+)", re.MULTILINE)


def one_script(entry: str, read: Callable[[str], str]) -> str:
    """Return a module and all that it needs as one script, each module once, after those that it imports.

    Parameters
    ----------
    entry : str
        Name of the module that nothing imports.
    read : (str) -> str
        From a module's name to its text. Imports stand in one form, ``import { a, b } from "./name.js";``, and what
        is exported is a function, a class or a constant, where it is declared.

    Raises
    ------
    ValueError
        For modules that import each other in a circle, and for imports and exports of another form.
    """
    written: dict[str, str] = {}
    _write(entry, read, written, ())
    return "\n".join(written.values())


def bare(text: str) -> str:
    """Return a module as it is sent: not indented, and without what is for readers and the check of types.

    Comments go that have lines of their own, casts, and those at the end of a line in which no quotation mark follows.
    """
    return re.sub(r"^\s+", "", LATER.sub("", CAST.sub("", COMMENT.sub("", text))), flags=re.MULTILINE)


def _write(name: str, read: Callable[[str], str], written: dict[str, str], needing: tuple[str, ...]) -> None:
    if name in needing:
        raise ValueError(f"{' imports '.join((*needing, name))}, which is a circle")
    text = read(name)
    for _, other in IMPORT.findall(text):
        if other not in written:
            _write(other, read, written, (*needing, name))
    exported = [found[1] for found in EXPORT.findall(text)]
    body = IMPORT.sub(lambda found: f"const {{{found[1]}}} = {found[2]}_js;\n", EXPORT.sub(r"\1 \2", text))
    left = re.search(r"^(?:import|export)\b.*", body, re.MULTILINE)
    if left is not None:
        raise ValueError(f"{name}.js: '{left[0]}' stands in a form that is not known here")
    written[name] = f"const {name}_js = (() => {{\n{bare(body)}return {{ {', '.join(exported)} }};\n}})();\n"
