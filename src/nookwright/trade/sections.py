"""Boards glued into one section: lips, face trim, cleats and backs share the bending with the shelf."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One rectangle of a section that bends as a whole.

    Args:
        modulus_n_mm2: E along the span. [N/mm2]
        width_mm: front to back. [mm]
        height_mm: up and down. [mm]
        top_mm: its upper edge below the section's top; below 0 when it stands above. [mm]
    """

    modulus_n_mm2: float
    width_mm: float
    height_mm: float
    top_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A section as it bends.

    Args:
        stiffness_n_mm2: E I about the common neutral axis. [N mm2]
        axis_mm: the neutral axis below the section's top. [mm]
        strips: what it is made of.
    """

    stiffness_n_mm2: float
    axis_mm: float
    strips: tuple[Strip, ...]


def transformed(strips: tuple[Strip, ...]) -> Section:
    r"""Return the stiffness of strips that are glued all along and bend together.

    $E I = \sum E_i (b_i h_i^3 / 12 + b_i h_i (c_i - c)^2)$, $c = \sum E_i A_i c_i / \sum E_i A_i$

    Args:
        strips: every rectangle, at its height.

    Returns:
        Stiffness and neutral axis.

    Valid:
        Glued or screwed so that nothing slides; bends without twisting.

    Source:
        [transformed-section]. Status: computed.

    Example:
        >>> shelf = Strip(modulus_n_mm2=9000, width_mm=282, height_mm=18)
        >>> lip = Strip(modulus_n_mm2=12500, width_mm=18, height_mm=38)
        >>> round(transformed((shelf, lip)).stiffness_n_mm2 / 1e6, 2)
        2982.53
    """
    axial = sum(each.modulus_n_mm2 * each.width_mm * each.height_mm for each in strips)
    middles = [each.top_mm + each.height_mm / 2 for each in strips]
    c = sum(
        each.modulus_n_mm2 * each.width_mm * each.height_mm * ci for each, ci in zip(strips, middles, strict=True)
    ) / axial  # fmt: skip
    stiffness = sum(
        E * (b * h**3 / 12 + b * h * (ci - c) ** 2)
        for (E, b, h), ci in zip(((s.modulus_n_mm2, s.width_mm, s.height_mm) for s in strips), middles, strict=True)
    )
    return Section(stiffness_n_mm2=stiffness, axis_mm=c, strips=strips)


def loose(strips: tuple[Strip, ...]) -> float:
    r"""Return the stiffness of strips that only lie on each other and slide.

    $E I = \sum E_i b_i h_i^3 / 12$

    Args:
        strips: every rectangle.

    Returns:
        Stiffness. [N mm2]

    Source:
        [transformed-section]. Status: computed.

    Example:
        >>> loose((Strip(modulus_n_mm2=9000, width_mm=300, height_mm=18),)) / 1e6
        1312.2
    """
    return sum(each.modulus_n_mm2 * each.width_mm * each.height_mm**3 / 12 for each in strips)


def greatest_stress(section: Section, moment_n_mm: float) -> tuple[float, ...]:
    r"""Return the greatest bending stress in each strip.

    $\sigma_i = M E_i z_i / (E I)$ with z_i the farther of its edges from the axis

    Args:
        section: the section.
        moment_n_mm: M. [N mm]

    Returns:
        One stress a strip, in their order. [N/mm2]

    Source:
        [transformed-section]. Status: computed.

    Example:
        >>> plain = transformed((Strip(modulus_n_mm2=9000, width_mm=300, height_mm=18),))
        >>> greatest_stress(plain, 30375.0)
        (1.875,)
    """
    M, EI, c = abs(moment_n_mm), section.stiffness_n_mm2, section.axis_mm
    return tuple(
        M * each.modulus_n_mm2 * max(abs(each.top_mm - c), abs(each.top_mm + each.height_mm - c)) / EI
        for each in section.strips
    )
