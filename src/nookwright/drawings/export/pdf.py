"""Pages as one PDF: each sheet's SVG placed at full size, words kept as words, printing asked for unscaled."""

from __future__ import annotations

import re
import warnings
from importlib import resources

from nookwright.drawings.export.svg import svg
from nookwright.drawings.page import Page


def pdf(pages: tuple[Page, ...], *, title: str) -> bytes:
    """Return the pages as a PDF document; the same pages give the same bytes.

    Args:
        pages: the sheets in order.
        title: the document's title.

    Returns:
        The PDF, with the fonts inside and no date.
    """
    import typst

    source = "\n".join((f"#set document(title: {_quoted(title)}, date: none)", *(_sheet(page) for page in pages)))
    fonts_inside = resources.files("nookwright.drawings").joinpath("fonts")
    with resources.as_file(fonts_inside) as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)])
        made = typst.compile(source.encode("utf-8"), font_paths=fonts, format="pdf")
    return unscaled(bytes(made))


def _sheet(page: Page) -> str:
    """Return one sheet in the typesetter's language; width AND height are given, or it would rescale."""
    width, height = f"{page.width_mm:g}mm", f"{page.height_mm:g}mm"
    drawing = _quoted(svg(page).decode("utf-8"))
    return (
        f"#page(width: {width}, height: {height}, margin: 0mm, "
        f'image(bytes({drawing}), format: "svg", width: {width}, height: {height}, alt: {_quoted(page.name)}))'
    )


def _quoted(text: str) -> str:
    """Return the text as a string of the typesetter's language."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


_CATALOGUE = re.compile(rb"(\d+) 0 obj\s*<<((?:(?!endobj).)*?/Type\s*/Catalog(?:(?!endobj).)*?)>>\s*endobj", re.DOTALL)


def unscaled(document: bytes) -> bytes:
    """Return the PDF asking viewers to print it at full size, by an update appended to its end.

    Adds /ViewerPreferences << /PrintScaling /None >> to the catalogue. A viewer may ignore it, so every sheet carries
    a bar to measure as well.

    Args:
        document: a PDF whose catalogue and cross-reference table are not compressed.

    Returns:
        The PDF with the update.
    """
    catalogue = list(_CATALOGUE.finditer(document))[-1]
    number, entries = int(catalogue[1]), catalogue[2]
    trailer = document[document.rindex(b"trailer") :]
    size, previous = re.findall(rb"(?:/Size|startxref)\s+(\d+)", trailer)
    kept = b" ".join(re.findall(rb"/ID\s*\[[^\]]*\]|/Info\s+\d+ \d+ R", trailer))
    if b"/ViewerPreferences" in entries:
        entries = re.sub(rb"(/ViewerPreferences\s*<<)", rb"\1/PrintScaling/None ", entries)
    else:
        entries += b"/ViewerPreferences<</PrintScaling/None>>"
    start = len(document) + 1
    update = b"\n%d 0 obj\n<<%s>>\nendobj\n" % (number, entries)
    table = len(document) + len(update)
    update += b"xref\n0 1\n0000000000 65535 f \n%d 1\n%010d 00000 n \n" % (number, start)
    update += b"trailer\n<</Size %s/Root %d 0 R/Prev %s %s>>\n" % (size, number, previous, kept)
    return document + update + b"startxref\n%d\n%%%%EOF\n" % table
