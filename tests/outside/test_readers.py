"""Every file of a run in the hands of readers that we did not make, each as strict as it can be set.

3MF: lib3mf, the 3MF Consortium's reference implementation, in strict mode. GLB: Khronos's glTF validator. PDF: qpdf,
through pikepdf, which writes the last of it, and pypdf, which does not. STL: ADMesh, which counts what it would mend.
SVG: W3C's document type of SVG 1.1, as Debian packs it, through libxml2. What they find in broken files is checked too,
so that none of them is merely silent.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import tomllib
import zipfile
from pathlib import Path

import numpy as np
import pikepdf
import pypdf
import pytest
from demos import SCENES
from hostile import OBEYED
from lxml import etree
from npm import WEB, checked_by

from sweep.check.judge import Outcome, judge
from sweep.cut.job import simulate
from sweep.cut.sanding import filling
from sweep.scene.read import scene_from
from sweep.shape.mesh import Mesh
from sweep.show.files.folder import mesh_files
from sweep.show.files.meshes import write_3mf, write_glb, write_meshes, write_stl
from sweep.show.files.sanding import scraper_svg, write_scraper
from sweep.show.say.report import Report
from sweep.show.sheet.pdf import paper_for, write_sheet
from sweep.tolerance import CHORD

SVG_11 = Path("/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd")
RIPPED_AND_MITRED = {
    "finish": [
        {"do": "rip", "at": "4 mm"},
        {"do": "bevel", "spring": "38 deg", "wall_flat": "9 mm", "ceiling_flat": "6 mm"},
        {"do": "round over", "edge": "table left", "radius": "3 mm", "piece": 1},
    ],
    "order": {"rectangle": ["400 mm", "300 mm"]},
}
_ONE = np.array([[0.0, 0, 0], [8, 0, 0], [0, 8, 0], [0, 0, 8]]), np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]])
CORNERS = np.vstack([_ONE[0] + (20 * k, 0, 0) for k in range(4)])
WHOLE = np.vstack([_ONE[1] + 4 * k for k in range(4)])
"""Four tetrahedra apart: 16 triangles, as ADMesh opens no file that is smaller."""
OPEN, TURNED = WHOLE[1:], np.vstack([WHOLE[:1, ::-1], WHOLE[1:]])
"""The same, a triangle left out, and turned inwards."""


def tetrahedra(triangles: np.ndarray) -> Mesh:
    """Return a mesh on the corners of four tetrahedra."""
    return Mesh(CORNERS, triangles, np.zeros(len(triangles), int))


def job(name: str, changes: dict[str, object] | None = None) -> Outcome:
    """Return a demo scene as judged, some of its sections written anew."""
    written = tomllib.loads((SCENES / f"{name}.toml").read_text(encoding="utf-8"))
    return judge(simulate(scene_from(written | (changes or {}), SCENES)))


@pytest.fixture(scope="session")
def runs(tmp_path_factory: pytest.TempPathFactory) -> dict[Path, Outcome]:
    """What is written of jobs that differ: stopped; tilted; in inches on Letter; ripped, bevelled and mitred."""
    jobs = [job("stopped-cove"), job("tilted-cove"), job("picture-rail")]
    jobs.append(job("corner-cupboard-cornice", RIPPED_AND_MITRED | {"title": OBEYED[7]}))
    folders = {}
    for outcome in jobs:
        folder, units = tmp_path_factory.mktemp("run"), outcome.job.scene.units
        write_meshes(folder, mesh_files(Report(outcome, units), CHORD))
        write_scraper(folder, outcome.job.scene, units, CHORD)
        write_sheet(folder / "sheet.pdf", Report(outcome, units), paper_for(units), "scene.toml")
        folders[folder] = outcome
    return folders


def files(runs: dict[Path, Outcome], ending: str) -> list[Path]:
    """Return every file of that kind."""
    return [path for folder in runs for path in sorted(folder.glob(f"*.{ending}"))]


def read_strictly(path: Path) -> list:
    """Return the bodies that lib3mf reads from a 3MF, having no warning, each as (name, triangles, sound)."""
    lib3mf = pytest.importorskip("lib3mf", reason="lib3mf is not packed for this machine")
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    assert reader.GetWarningCount() == 0, [reader.GetWarning(k) for k in range(reader.GetWarningCount())]
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    bodies, found = model.GetMeshObjects(), []
    while bodies.MoveNext():
        body = bodies.GetCurrentMeshObject()
        found.append((body.GetName(), body.GetTriangleCount(), body.IsValid() and body.IsManifoldAndOriented()))
    items, built = model.GetBuildItems(), []
    while items.MoveNext():
        built.append(items.GetCurrent().GetObjectResource().GetName())
    assert built == [name for name, _, _ in found]  # each once
    return found


def mended(path: Path) -> dict[str, int]:
    """Return what ADMesh counts in an STL: facets, parts, and each kind of repair."""
    if shutil.which("admesh") is None:
        pytest.skip("there is no ADMesh here; on Debian or Ubuntu, 'apt-get install admesh' brings it")
    told = subprocess.run(["admesh", path], capture_output=True, text=True, check=True, timeout=60).stdout
    return {name.strip(): int(count) for name, count in re.findall(r"([A-Z][a-z1-2 ]+): +(\d+)\b(?!\.)", told)}


def repairs(counted: dict[str, int]) -> dict[str, int]:
    """Return only what is there and should not be."""
    sound = ("Number of facets", "Number of parts")
    return {name: count for name, count in counted.items() if count and name not in sound}


def svg_11() -> etree.DTD:
    """Return the document type of SVG 1.1."""
    if not SVG_11.exists():
        pytest.skip(
            "W3C's document types are not here; on Debian or Ubuntu, 'apt-get install w3c-sgml-lib' brings them"
        )
    return etree.DTD(str(SVG_11))


def test_every_3mf_is_read_by_the_consortiums_reader_in_strict_mode(runs):
    """One object a piece, named, in mm, manifold and turned outwards, with every triangle; nothing to warn of."""
    for folder, outcome in runs.items():
        expected = [
            (f"piece-{number}", len(piece.mesh.triangles), True)
            for number, piece in enumerate(outcome.job.pieces, start=1)
        ]
        assert read_strictly(folder / "finished.3mf") == expected


def test_that_reader_refuses_what_is_wrong(runs, tmp_path):
    """An attribute that the core specification does not have; and it knows what is closed and turned outwards."""
    folder = next(iter(runs))
    with zipfile.ZipFile(folder / "finished.3mf") as whole, zipfile.ZipFile(tmp_path / "a.3mf", "w") as other:
        for name in whole.namelist():
            other.writestr(name, whole.read(name).replace(b"<item ", b'<item colour="brown" '))
    with pytest.raises(Exception, match="Attribute"):
        read_strictly(tmp_path / "a.3mf")

    for number, (triangles, sound) in enumerate(((WHOLE, True), (OPEN, False), (TURNED, False))):
        write_3mf(tmp_path / f"{number}.3mf", [tetrahedra(triangles)])
        assert read_strictly(tmp_path / f"{number}.3mf") == [("piece-1", len(triangles), sound)]


def test_a_3mf_holds_the_core_and_nothing_of_the_moment(runs):
    """Three parts, none dated, and no word but those of the core specification's elements."""
    for path in files(runs, "3mf"):
        with zipfile.ZipFile(path) as archive:
            assert sorted(archive.namelist()) == ["3D/3dmodel.model", "[Content_Types].xml", "_rels/.rels"]
            assert {one.date_time for one in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
            model = etree.fromstring(archive.read("3D/3dmodel.model"))
        assert {etree.QName(one).localname for one in model.iter()} == {
            "model", "resources", "object", "mesh", "vertices", "vertex", "triangles", "triangle", "build", "item",
        }  # fmt: skip


def test_khronos_validator_finds_nothing_in_any_glb(runs):
    """No error, no warning, not even a hint."""
    assert checked_by(WEB / "gltf-issues.mjs", *files(runs, "glb")) == ""


def test_that_validator_finds_what_is_wrong(tmp_path):
    """A bound that does not hold, in the JSON of the file."""
    write_glb(tmp_path / "a.glb", [tetrahedra(WHOLE)])
    content = (tmp_path / "a.glb").read_bytes()
    (tmp_path / "a.glb").write_bytes(content.replace(b'"max":[0.06', b'"max":[0.05'))

    assert "ACCESSOR_MAX_MISMATCH" in checked_by(WEB / "gltf-issues.mjs", tmp_path / "a.glb")


def test_admesh_has_nothing_to_mend_in_any_stl(runs):
    """Every facet has its neighbours, none is degenerate or turned, and all normals are right."""
    written = files(runs, "stl")
    assert {"finished.stl", "pass-01.stl", "piece-2.stl", "mitred.stl", "sanding-block.stl"} <= {
        p.name for p in written
    }
    for path in written:
        counted = mended(path)
        assert repairs(counted) == {}, path.name
        assert counted["Number of facets"] > 0
        assert counted["Number of parts"] == {"mitred.stl": 4}.get(path.name, 1) or path.name == "finished.stl"


def test_admesh_finds_what_is_wrong(tmp_path):
    """A facet left out, and one turned inwards; whole, there is nothing to mend."""
    for triangles, kinds in ((WHOLE, set()), (OPEN, {"Facets added"}), (TURNED, {"Facets reversed"})):
        write_stl(tmp_path / "a.stl", tetrahedra(triangles))
        found = repairs(mended(tmp_path / "a.stl"))
        assert kinds <= found.keys() and bool(kinds) == bool(found)


def test_no_reader_finds_anything_in_any_sheet(runs):
    """Its syntax, its cross references, its streams; every object, and the words of every page."""
    for path in files(runs, "pdf"):
        read = pypdf.PdfReader(path, strict=True)
        assert all(page.extract_text() for page in read.pages)
        assert None not in [read.get_object(number) for number in read.xref[0]]
        with pikepdf.open(path) as sheet:
            assert sheet.check_pdf_syntax() == []
            assert len(sheet.pages) >= 2


def test_admesh_agrees_on_the_normals_of_needles(tmp_path):
    """Rounding to 32 bits turns the normals of slivers: each is written for the corners as they are read."""
    needles = Mesh(CORNERS * (1, 3e-5, 5e-5) + 900, WHOLE, np.zeros(len(WHOLE), int))
    write_stl(tmp_path / "a.stl", needles)

    assert repairs(mended(tmp_path / "a.stl")) == {}


def test_qpdf_finds_what_is_wrong(runs, tmp_path):
    """A stream that cannot be unpacked."""
    content = files(runs, "pdf")[0].read_bytes()
    heads = re.finditer(rb"<<(?:(?!>>|stream).)*/FlateDecode.*?stream\r?\n", content, re.DOTALL)
    start = next(head.end() for head in heads if b"/ObjStm" not in head[0] and b"/XRef" not in head[0])
    (tmp_path / "a.pdf").write_bytes(content[:start] + b"\xff" * 8 + content[start + 8 :])
    with pikepdf.open(tmp_path / "a.pdf") as sheet:
        assert sheet.check_pdf_syntax() != []


def test_every_template_is_svg_1_1(runs):
    """Held to W3C's document type, with any title: each is XML, and its words are words."""
    kind = svg_11()
    written = [path.read_text(encoding="utf-8") for path in files(runs, "svg")]
    scene = next(iter(runs.values())).job.scene
    outline = filling(scene, 0.0, CHORD)
    titled = [scraper_svg(outline, scene.model_copy(update={"title": title}), scene.units) for title in OBEYED]
    assert len(written) == len(runs)
    for text in written + titled:
        kind.assertValid(etree.fromstring(text))
    for text, title in zip(titled, OBEYED, strict=True):
        assert title[:60] in [one.text for one in etree.fromstring(text).iter("{*}text")]


def test_that_document_type_refuses_other_words():
    """An element, and an attribute, that SVG 1.1 does not have."""
    kind, head = svg_11(), '<svg xmlns="http://www.w3.org/2000/svg">'
    assert not kind.validate(etree.fromstring(f"{head}<line wide='1'/></svg>"))
    assert not kind.validate(etree.fromstring(f"{head}<bar/></svg>"))
    assert kind.validate(etree.fromstring(f"{head}<line/></svg>"))
