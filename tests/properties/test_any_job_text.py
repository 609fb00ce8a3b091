"""Whatever is typed into a job file, the answer is a job or problems in plain words; never a crash."""

from __future__ import annotations

import math
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.basics.lengths import UnreadableTextError, read_angle, read_length, read_pair
from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import Job, read_job

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
HALL = {
    name: (EXAMPLES / "hall-stair" / name).read_text(encoding="utf-8")
    for name in ("room.yaml", "brief.yaml", "shop.yaml")
}
BUILT = "units: inch\nthicknesses:\n  - birch-3/4: 0.71\nparts:\n  - C3: 33 5/8 x 11\n"

SNIPPETS = st.sampled_from(
    ["", ":", ": ", "- ", "{", "}", "[", "]", "'", '"', "#", "\t", "\n", "\n  ", "?", "? ", "&a ", "*a", "!!int ", "|", ">",
     "---\n", "%", "@", "`", "\\", "0", "-1", "1/0", "9" * 400, "1e999", "½", "\x00", "\u2028", "\ud7ff", "null", "~", "nan",
     ",", "x", " in ", "tiers: []", "{}", "[]", "<<: ", "\r", "\ufeff"]
)  # fmt: skip


@st.composite
def spoilt_text(draw: st.DrawFn, text: str) -> str:
    """Return the text with a few places cut, doubled, or written over."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 25)))
        put = draw(st.one_of(SNIPPETS, st.text(max_size=6), st.just(text[start:end] * 2)))
        text = text[:start] + put + text[end:]
    return text


@st.composite
def spoilt_lines(draw: st.DrawFn, text: str) -> str:
    """Return the text with lines dropped, doubled, swapped or shifted."""
    lines = text.splitlines()
    for _ in range(draw(st.integers(1, 4))):
        if not lines:
            break
        place = draw(st.integers(0, len(lines) - 1))
        other = draw(st.integers(0, len(lines) - 1))
        change = draw(st.sampled_from(["drop", "double", "swap", "shift"]))
        if change == "drop":
            del lines[place]
        elif change == "double":
            lines.insert(place, lines[place])
        elif change == "swap":
            lines[place], lines[other] = lines[other], lines[place]
        else:
            lines[place] = " " * draw(st.integers(0, 12)) + lines[place].lstrip()
    return "\n".join(lines)


def answer(texts: dict[str, str]) -> Job | None:
    """Read a folder with these files; check the problems' sentences when it is refused."""
    with tempfile.TemporaryDirectory() as folder:
        for name, text in texts.items():
            (Path(folder) / name).write_bytes(text.encode("utf-8", errors="surrogatepass"))
        try:
            return read_job(Path(folder))
        except InvalidInputError as caught:
            problems = caught.problems
    assert problems
    for problem in problems:
        assert problem.where.file
        assert "\n" not in str(problem)
        assert problem.found
        assert problem.expected
    return None


@settings(max_examples=150)
@given(st.data())
def test_a_job_file_spoilt_in_places_is_read_or_refused(data: st.DataObject) -> None:
    """Cut, doubled or written over, in any of the files."""
    texts = {**HALL, "built.yaml": BUILT}
    name = data.draw(st.sampled_from(sorted(texts)))
    texts[name] = data.draw(spoilt_text(texts[name]))
    answer(texts)


@settings(max_examples=100)
@given(st.data())
def test_a_job_file_with_its_lines_muddled_is_read_or_refused(data: st.DataObject) -> None:
    """Dropped, doubled, swapped or shifted."""
    texts = {**HALL, "built.yaml": BUILT}
    name = data.draw(st.sampled_from(sorted(texts)))
    texts[name] = data.draw(spoilt_lines(texts[name]))
    answer(texts)


def test_the_unspoilt_job_is_read() -> None:
    """So the tests above start from a good one."""
    assert answer({**HALL, "built.yaml": BUILT}) is not None


@given(st.one_of(st.text(max_size=20), st.text(alphabet="0123456789.,-+/'\"° xinftm½⅝ ", max_size=14)))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    """Never another error, and never a length that is no number."""
    for read in (
        lambda typed: read_length(typed, unit="mm"),
        lambda typed: read_length(typed, unit="inch"),
        lambda typed: read_pair(typed, unit="inch"),
        read_angle,
    ):
        try:
            found = read(text)
        except UnreadableTextError as caught:
            found, sentence = None, str(caught)
        if found is None:
            assert "; expected " in sentence
        else:
            assert all(math.isfinite(number) for number in (found if isinstance(found, tuple) else (found,)))
