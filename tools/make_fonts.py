"""Make the lettering of drawings and book: a renamed subset of DejaVu Sans Condensed, and its table of widths.

Run by hand, only when a character is missing. The two inputs come with the Debian package `fonts-dejavu-extra`
(version 2.37-6 was used) or with the DejaVu release 2.37:

    python tools/make_fonts.py DejaVuSansCondensed.ttf DejaVuSansCondensed-Bold.ttf

It writes NookSans-Regular.ttf, NookSans-Bold.ttf and widths.csv to src/nookwright/drawings/fonts. The licence of
DejaVu asks that a changed font bears another name; FONT-LICENSE.txt lies beside the result.
"""

from __future__ import annotations

import argparse
import csv
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FAMILY = "Nook Sans"
TARGET = Path(__file__).resolve().parents[1] / "src" / "nookwright" / "drawings" / "fonts"

RANGES = (
    (0x0020, 0x007E),  # Basic Latin
    (0x00A0, 0x00FF),  # Latin-1: degree, plus-minus, times, middle dot, quarters, superscripts 1 to 3
    (0x0100, 0x017F),  # Latin Extended-A
    (0x2010, 0x2027),  # dashes, quotes, bullet, ellipsis
    (0x202F, 0x203A),  # narrow space, per mille, prime marks
    (0x2044, 0x2044),  # fraction slash
    (0x2070, 0x208E),  # superscripts and subscripts
    (0x2150, 0x215F),  # number forms: thirds to eighths
    (0x2190, 0x2199),  # arrows
)
SPACES = "\u2002\u2003\u2009\u200a"
SINGLES = SPACES + "€≤≥≈≠≡√∞∑∅∠⊥∥⌀−∕∙∆ΔΣΦΩαβγδεθλμπρστφω△▲▽▼▷▶◁◀○●◎□■◇◆✓✔✗✘①②③④⑤⑥⑦⑧⑨⑩"


def wanted() -> set[int]:
    """Return every code point the drawings may use."""
    in_ranges = {code for first, last in RANGES for code in range(first, last + 1)}
    return in_ranges | {ord(character) for character in SINGLES}


def subset(source: Path, style: str) -> TTFont:
    """Return the font cut down to the wanted characters and renamed."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options(hinting=False, layout_features=["*"], notdef_outline=True, glyph_names=False, name_IDs=["*"])
    options.recalc_timestamp = False
    options.drop_tables += ["FFTM"]  # a font editor's time stamp
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=wanted())
    subsetter.subset(font)
    rename(font, style)
    font["head"].modified = font["head"].created  # the same input gives the same bytes
    return font


def rename(font: TTFont, style: str) -> None:
    """Give the font its own family name, keep the copyright notice, and call its width normal."""
    names = font["name"]
    copyright_notice = names.getDebugName(0)
    file_name = f"{FAMILY.replace(' ', '')}-{style}"
    names.names = []
    for name_id, text in {
        0: f"{copyright_notice}\nChanged: cut down to fewer characters and renamed.",
        1: FAMILY,
        2: style,
        3: f"{FAMILY} {style} 1.0",
        4: f"{FAMILY} {style}",
        5: "Version 1.0",
        6: file_name,
        13: "See FONT-LICENSE.txt.",
    }.items():
        names.setName(text, name_id, 3, 1, 0x409)
    font["OS/2"].usWidthClass = 5  # one width only, so programs that look for a normal width find it


def write_widths(regular: TTFont, bold: TTFont, path: Path) -> None:
    """Write the advance width of every character, in thousandths of the letter height (em)."""
    em = regular["head"].unitsPerEm
    cap, small, figure = (per_mille(glyph_top(regular, character), em) for character in "Hx1")
    ascent, descent = (per_mille(abs(depth), em) for depth in (regular["hhea"].ascent, regular["hhea"].descent))
    lines = [
        f"# {FAMILY}: advance widths in 1/1000 em. Written by tools/make_fonts.py.",
        f"# cap height {cap}, x height {small}, figure height {figure}, ascent {ascent}, descent {descent}",
    ]
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write("\n".join(lines) + "\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["codepoint", "regular", "bold"])
        for code in sorted(regular.getBestCmap().keys() & bold.getBestCmap().keys()):
            writer.writerow([f"{code:04X}", *(per_mille(advance(font, code), em) for font in (regular, bold))])


def advance(font: TTFont, code: int) -> int:
    """Return a character's advance width in font units."""
    return int(font["hmtx"][font.getBestCmap()[code]][0])


def glyph_top(font: TTFont, character: str) -> int:
    """Return the top of a character's outline in font units."""
    return int(font["glyf"][font.getBestCmap()[ord(character)]].yMax)


def per_mille(units: float, em: int) -> int:
    """Return font units as whole thousandths of an em."""
    return round(1000 * units / em)


def main() -> None:
    """Read the two paths and write the three files."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("regular", type=Path)
    parser.add_argument("bold", type=Path)
    arguments = parser.parse_args()
    regular, bold = subset(arguments.regular, "Regular"), subset(arguments.bold, "Bold")
    regular.save(TARGET / "NookSans-Regular.ttf")
    bold.save(TARGET / "NookSans-Bold.ttf")
    write_widths(regular, bold, TARGET / "widths.csv")
    missing = sorted(wanted() - regular.getBestCmap().keys())
    print("not in the font:", " ".join(f"U+{code:04X}" for code in missing) or "nothing")


if __name__ == "__main__":
    main()
