"""SVG, PDF and glTF: true size, real words, same bytes, fonts inside."""

from __future__ import annotations

import io
import json
import struct
from xml.etree import ElementTree

import pypdf
import pytest
import trimesh

from nookwright.drawings.export.model3d import Solid, glb
from nookwright.drawings.export.pdf import pdf
from nookwright.drawings.export.svg import svg
from nookwright.drawings.page import Circle, Line, Page, Shape, Text
from nookwright.drawings.sheet import Draft, finished

MM_PER_POINT = 25.4 / 72.0
"""A point in PDF is 1/72 inch, by definition."""


@pytest.fixture
def page(any_issue) -> Page:
    """A sheet with every kind of item, words that need escaping, and the bar."""
    items = (
        Shape(points=((30.0, 60.0), (80.0, 60.0), (80.0, 90.0)), pen="wide", fill="hatch"),
        Shape(points=((90.0, 60.0), (99.0, 60.0)), closed=False, dash="chain", ink="grey"),
        Circle(centre=(120.0, 70.0), radius=4.0, fill="white"),
        Text(at=(40.0, 120.0), text='12 ⁵\u2044₈ < "top" & side', height_mm=5.0, angle_deg=90.0, bold=True),
    )
    return finished(Draft(name="All & <sundry>", items=items, scale=10), any_issue, number=1, total=1)


def strokes_mm(document: bytes) -> list[tuple[float, float, float, float]]:
    """Return the straight two-point strokes of a PDF's first page in mm from its lower left, transformations done."""
    reader = pypdf.PdfReader(io.BytesIO(document), strict=True)
    found: list[tuple[float, float, float, float]] = []

    def walk(content: pypdf.generic.StreamObject, resources, matrix) -> None:
        stack, here, start = [], matrix, None
        for operands, operator in pypdf.generic.ContentStream(content, reader).operations:
            if operator == b"q":
                stack.append(here)
            elif operator == b"Q":
                here = stack.pop()
            elif operator == b"cm":
                here = times([float(value) for value in operands], here)
            elif operator == b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                own = [float(value) for value in form.get("/Matrix", (1, 0, 0, 1, 0, 0))]
                walk(form, form.get("/Resources", resources), times(own, here))
            elif operator == b"m":
                start = applied(here, operands)
            elif operator == b"l" and start is not None:
                end = applied(here, operands)
                found.append((*start, *end))
                start = end

    first = reader.pages[0]
    walk(first.get_contents(), first["/Resources"], [1.0, 0.0, 0.0, 1.0, 0.0, 0.0])
    return found


def times(a: list[float], b: list[float]) -> list[float]:
    """Return the matrix that applies a, then b."""
    return [
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    ]  # fmt: skip


def applied(matrix: list[float], point) -> tuple[float, float]:
    """Return where a point comes to lie. [mm]"""
    x, y = (float(value) for value in point)
    return (
        (matrix[0] * x + matrix[2] * y + matrix[4]) * MM_PER_POINT,
        (matrix[1] * x + matrix[3] * y + matrix[5]) * MM_PER_POINT,
    )


def test_the_bar_to_measure_is_100_mm_long_in_the_pdf(page: Page) -> None:
    """Read from the file's own drawing commands: the bar's two long lines at the place where it is drawn."""
    level = [(x0, y0, x1) for x0, y0, x1, y1 in strokes_mm(pdf((page,), title="t")) if abs(y0 - y1) < 1e-6]
    bar_y = page.height_mm - 12.0 - 13.0 - 6.5
    bars = [x1 - x0 for x0, y0, x1 in level if abs(x0 - 13.0) < 0.01 and abs(page.height_mm - y0 - bar_y) < 0.01]
    assert bars == [pytest.approx(100.0, abs=0.005)]


def test_the_paper_has_its_true_size(page: Page) -> None:
    """A4 or Letter, to a hundredth of a millimetre."""
    box = pypdf.PdfReader(io.BytesIO(pdf((page,), title="t"))).pages[0].mediabox
    assert float(box.width) * MM_PER_POINT == pytest.approx(page.width_mm, abs=0.01)
    assert float(box.height) * MM_PER_POINT == pytest.approx(page.height_mm, abs=0.01)


def test_every_font_is_inside_the_pdf_and_is_ours(page: Page) -> None:
    """Nothing is left to the fonts of the printer."""
    reader = pypdf.PdfReader(io.BytesIO(pdf((page,), title="t")))
    fonts = [item.get_object() for item in map(reader.get_object, range(1, reader.trailer["/Size"])) if is_font(item)]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object()
        assert "NookSans" in font["/BaseFont"]
        assert "/FontFile2" in inner["/FontDescriptor"].get_object()


def is_font(item: object) -> bool:
    """Whether a PDF object is a whole font."""
    return isinstance(item, pypdf.generic.DictionaryObject) and item.get("/Subtype") == "/Type0"


def test_words_stay_words_in_the_pdf(page: Page) -> None:
    """They can be searched and read aloud."""
    said = pypdf.PdfReader(io.BytesIO(pdf((page,), title="t"))).pages[0].extract_text()
    assert "The bar is 100 mm long on paper." in said
    assert "All & <sundry>" in said


def test_the_pdf_asks_for_unscaled_printing_and_reads_strictly(page: Page) -> None:
    """The update at its end is well formed: a strict reader finds the entry and the title."""
    reader = pypdf.PdfReader(io.BytesIO(pdf((page, page), title='A "title"')), strict=True)
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.metadata is not None
    assert reader.metadata.title == 'A "title"'
    assert len(reader.pages) == 2


def test_the_same_pages_give_the_same_bytes(page: Page) -> None:
    """No date, no chance."""
    assert pdf((page,), title="t") == pdf((page,), title="t")
    assert svg(page) == svg(page)
    assert b"CreationDate" not in pdf((page,), title="t")


def test_the_svg_is_well_formed_and_in_millimetres(page: Page) -> None:
    """One user unit is a millimetre; words are escaped, not lost."""
    root = ElementTree.fromstring(svg(page))  # noqa: S314  our own text
    assert root.get("width") == f"{page.width_mm:g}mm"
    assert root.get("viewBox") == f"0 0 {page.width_mm:g} {page.height_mm:g}"
    said = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert said == [item.text for item in page.items if isinstance(item, Text)]


def test_built_lines_are_twice_as_wide_as_the_rest() -> None:
    """0.5 and 0.25 mm."""
    lines = (Line(start=(20.0, 20.0), end=(40.0, 20.0), pen="wide"), Line(start=(20.0, 30.0), end=(40.0, 30.0)))
    text = svg(Page(name="t", paper="A4", landscape=False, items=lines)).decode()
    assert text.count('stroke-width="0.5"') == 1
    assert text.count('stroke-width="0.25"') == 1


BOX = Solid(
    name="C1 side",
    vertices=[(x, y, z) for x in (0.0, 18.0) for y in (-300.0, 0.0) for z in (90.0, 940.0)],
    triangles=[
        (0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
        (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3),
    ],
)  # fmt: skip


def test_a_board_comes_back_from_gltf_with_its_size_and_volume() -> None:
    """An independent reader finds metres, y up, and outward triangles: 0.018 x 0.85 x 0.3 m."""
    scene = trimesh.load(io.BytesIO(glb([BOX, BOX])), file_type="glb")
    mesh = next(iter(scene.geometry.values()))
    mesh.merge_vertices()
    assert len(scene.geometry) == 2
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(0.018 * 0.85 * 0.3, rel=1e-5)
    assert mesh.bounds[0].tolist() == pytest.approx([0.0, 0.09, 0.0], abs=1e-6)
    assert mesh.bounds[1].tolist() == pytest.approx([0.018, 0.94, 0.3], abs=1e-6)


def test_a_gltf_file_states_its_own_length_and_names() -> None:
    """Header, JSON chunk and binary chunk add up; nodes carry the part numbers."""
    content = glb([BOX])
    magic, version, length = struct.unpack_from("<4sII", content)
    json_length, kind = struct.unpack_from("<II", content, 12)
    assert (magic, version, length) == (b"glTF", 2, len(content))
    assert (kind, json_length % 4) == (0x4E4F534A, 0)
    document = json.loads(content[20 : 20 + json_length])
    assert [node["name"] for node in document["nodes"]] == ["C1 side"]
    assert glb([BOX]) == content


def test_an_empty_model_is_still_a_file() -> None:
    """A job of bought cabinets has no boards of ours."""
    content = glb([])
    assert struct.unpack_from("<4sII", content) == (b"glTF", 2, len(content))
