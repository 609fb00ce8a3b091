"""Wrong built files: every mistake is told with its place and what would be right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job

BUILT = [
    (
        "thicknesses:\n  - birch-18: 0.5\nparts:\n  - C3: 854 x 280\n",
        [
            'built.yaml:2:15 thicknesses[1]: found "0.5"; expected a length from 1 mm to 100 mm.',
        ],
    ),
    (
        "thicknesses:\n  - oak: 17.6\nparts:\n  - C3: 854 x 280\n",
        [
            'built.yaml:2:5 thicknesses[1]: found "oak"; expected the key of a sheet or board in shop.yaml: birch-18, birch-6, mdf-18, strip.',
        ],
    ),
    (
        "thicknesses:\n  - birch-18: 17.6\nparts:\n  - C3: 854\n",
        [
            'built.yaml:4:9 parts[1]: found "854"; expected two lengths with x between them, such as 74 x 86.',
        ],
    ),
    (
        "thicknesses:\n  - birch-18: 17.6\nparts:\n  - C3: \n",
        [
            "built.yaml:4:5 parts[1]: found nothing; expected two lengths with x between them from 1 mm to 6000 mm. Fill it in, or take the line out.",
        ],
    ),
]


@pytest.mark.parametrize(("built", "sentences"), BUILT, ids=range(len(BUILT)))
def test_a_wrong_built_file_is_refused_in_plain_words(
    built: str, sentences: list[str], write_job: Callable[..., Path]
) -> None:
    """As for the other files."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(write_job(built=built))
    assert str(caught.value).splitlines() == sentences
