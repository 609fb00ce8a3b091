"""Transformed section of two materials, against a worked value and sectionproperties, an independent section package.

The worked value was got by hand and by sectionproperties 3.10.2. The package itself needs a newer C library than some
machines have, so it is no part of the locked set; where it is installed, more sections are compared with it.
"""

from __future__ import annotations

import pytest

from nookwright.trade.sag import lipped_stiffness


def test_the_worked_lipped_shelf() -> None:
    """282 x 18 plywood (E 9000) with an 18 x 38 oak lip (E 12500): 2982.53 N m2, 2.273 times a plain 300 x 18 board."""
    found = lipped_stiffness(
        shelf_modulus_n_mm2=9000,
        shelf_depth_mm=282,
        shelf_thickness_mm=18,
        lip_modulus_n_mm2=12500,
        lip_thickness_mm=18,
        lip_height_mm=38,
    )
    assert found / 1e6 == pytest.approx(2982.53, abs=0.005)
    assert found / (9000 * 300 * 18**3 / 12) == pytest.approx(2.273, abs=0.0005)


@pytest.mark.parametrize(
    ("shelf", "lip"),
    [
        ((9000, 282, 18), (12500, 18, 38)),
        ((2500, 260, 22), (8900, 20, 60)),
        ((7000, 330, 12), (13440, 25, 25)),
    ],
)
def test_lips_agree_with_the_section_package(
    shelf: tuple[float, float, float], lip: tuple[float, float, float]
) -> None:
    """Soft and stiff boards, low and tall lips."""
    analysis = pytest.importorskip("sectionproperties.analysis", reason="sectionproperties is not installed here")
    pre = pytest.importorskip("sectionproperties.pre")
    library = pytest.importorskip("sectionproperties.pre.library")

    def material(name: str, modulus: float) -> object:
        # Without Poisson's effect, as a board in bending.
        return pre.Material(
            name=name, elastic_modulus=modulus, poissons_ratio=0, yield_strength=1, density=1, color="grey"
        )

    found = lipped_stiffness(
        shelf_modulus_n_mm2=shelf[0],
        shelf_depth_mm=shelf[1],
        shelf_thickness_mm=shelf[2],
        lip_modulus_n_mm2=lip[0],
        lip_thickness_mm=lip[1],
        lip_height_mm=lip[2],
    )
    board = library.rectangular_section(d=shelf[2], b=shelf[1], material=material("shelf", shelf[0]))
    strip = library.rectangular_section(d=lip[2], b=lip[1], material=material("lip", lip[0]))
    strip = strip.shift_section(x_offset=shelf[1], y_offset=shelf[2] - lip[2])
    geometry = (board + strip).create_mesh(mesh_sizes=[0])
    section = analysis.Section(geometry)
    section.calculate_geometric_properties()
    about_x = section.get_eic(e_ref=1)[0]
    assert found == pytest.approx(about_x, rel=1e-9)


def test_a_lip_of_the_shelfs_own_height_and_wood_is_a_wider_shelf() -> None:
    """By hand: nothing but width is added."""
    found = lipped_stiffness(
        shelf_modulus_n_mm2=9000,
        shelf_depth_mm=282,
        shelf_thickness_mm=18,
        lip_modulus_n_mm2=9000,
        lip_thickness_mm=18,
        lip_height_mm=18,
    )
    assert found == pytest.approx(9000 * 300 * 18**3 / 12)


def test_forgetting_the_shift_of_the_axis_is_rejected() -> None:
    """The sum of both pieces' own stiffness alone is far below the worked value."""
    own = 9000 * 282 * 18**3 / 12 + 12500 * 18 * 38**3 / 12
    assert own / 1e6 < 2982.53 * 0.9
