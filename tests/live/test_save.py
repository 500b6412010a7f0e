"""Save writes the scene's real file, whole, and once where two pages save at the same moment."""

from __future__ import annotations

import asyncio
import json
import re
import shutil
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from demos import CORNICE
from serving import served

from sweep.disk.file import replace_file
from sweep.errors import SceneError
from sweep.live import desk
from sweep.live.asked import PageRequest
from sweep.live.opened import Opened
from sweep.units import Units


def save(address: str, version: str, offset: str) -> tuple[int, dict]:
    """Return the status and the answer of saving another offset of the stock."""
    body = {"version": version, "units": "mm", "changes": {"setup.offset": offset}}
    request = urllib.request.Request(f"{address}save", json.dumps(body).encode(), {"Content-Type": "application/json"})
    try:
        with urllib.request.urlopen(request) as reply:
            return reply.status, json.load(reply)
    except urllib.error.HTTPError as wrong:
        with wrong:
            return wrong.code, json.load(wrong)


def test_the_real_file_is_written_with_its_mode_once_and_a_read_only_one_is_refused(tmp_path):
    """Through a link; of four pages that save at once one is obeyed and three are told; nothing is left beside."""
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    shutil.copyfile(CORNICE, real)
    real.chmod(0o640)
    link.symlink_to("real.toml")
    offsets = ["0.1 mm", "0.2 mm", "0.3 mm", "0.4 mm"]
    with served(link) as address:
        with urllib.request.urlopen(address) as reply:
            version = re.search(r'"version":"(\w+)"', reply.read().decode())[1]
        with ThreadPoolExecutor(4) as pages:
            told = list(pages.map(lambda offset: save(address, version, offset), offsets))
        obeyed = [k for k, (status, _) in enumerate(told) if status == 200]
        after = real.read_text()
        real.chmod(0o440)
        refused = save(address, told[obeyed[0]][1]["version"], "0.5 mm")

    assert len(obeyed) == 1
    assert all(
        "has changed since this page was opened" in answer["sentence"] for status, answer in told if status != 200
    )
    assert f'offset = "{offsets[obeyed[0]]}"' in after
    assert refused[0] == 422
    assert "is read-only; make it writable, or give another file." in refused[1]["sentence"]
    assert real.read_text() == after
    assert (real.stat().st_mode & 0o777, link.readlink()) == (0o440, Path("real.toml"))
    assert {path.name for path in tmp_path.iterdir()} == {"real.toml", "link.toml"}


def test_what_another_writes_into_the_file_in_the_last_moment_is_not_overwritten(tmp_path, monkeypatch):
    """The file is looked at once more while no other run of ours writes there."""
    scene = tmp_path / "scene.toml"
    scene.write_text("as opened")
    opened = Opened(scene, "as opened", "as opened", {})

    class Answers:
        """What the workers would answer."""

        async def work(self, name: str, *_: object) -> object:
            return {"page": (opened, b""), "revised": "as saved"}[name]

    def late(path: Path, *rest: object) -> None:
        path.write_text("as another wrote it")
        replace_file(path, *rest)

    monkeypatch.setattr(desk, "replace_file", late)
    page = desk.Desk(scene, Units(), Answers())
    asyncio.run(page.page())
    with pytest.raises(SceneError, match="has changed since this page was opened"):
        asyncio.run(page.save(PageRequest(version=opened.version, units="mm", changes={})))

    assert scene.read_text() == "as another wrote it"
    assert [path.name for path in tmp_path.iterdir()] == ["scene.toml"]


def test_what_another_writes_into_the_shop_in_the_last_moment_is_not_overwritten(tmp_path):
    """The shop was read when its new text was worked out, and is looked at once more as it is written."""
    scene, shop = tmp_path / "scene.toml", tmp_path / "shop.toml"
    scene.write_text("as opened")
    opened = Opened(scene, "as opened", "as opened", {})

    class Answers:
        """What the workers would answer, while another writes into the shop, or makes it."""

        before: str | None = "as read"

        async def work(self, name: str, *_: object) -> object:
            if name == "shop":
                shop.write_text("as another wrote it")
            return {"page": (opened, b""), "shop": (self.before, "as changed")}[name]

    page = desk.Desk(scene, Units(), Answers())
    asyncio.run(page.page())
    shop.write_text("as read")
    for before in ("as read", None):
        Answers.before = before
        with pytest.raises(SceneError, match=r"shop\.toml"):
            asyncio.run(page.shop("saw", PageRequest(version=opened.version, units="mm", changes={})))

    assert shop.read_text() == "as another wrote it"
    assert {path.name for path in tmp_path.iterdir()} == {"scene.toml", "shop.toml"}
