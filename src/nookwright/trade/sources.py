"""The reference list: key, title and edition, place, and how far each is to be trusted.

`read` means read in a copy, an excerpt or a quotation, not in the publisher's own document:
confirm against an owned copy before relying on it as a standard's wording.
"""

from __future__ import annotations

from nookwright.basics.sources import Source

SOURCES: tuple[Source, ...] = (
    Source(
        key="wood-handbook",
        title="USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)",
        place="Tables 4-3, 5-3a, 5-6, 12-1, 12-3, 13-5; p. 5-38; structural analysis, deflection equation",
        status="read",
    ),
    Source(
        key="wood-handbook-recalled",
        title="USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010)",
        place="Tables 4-3, 5-3a, 5-3b and 9-1: rows that were recalled, not read",
        status="recalled",
    ),
    Source(
        key="species-table",
        title="Public tables of species quoting Forest Products Laboratory values",
        place="specific gravity, modulus of elasticity and of rupture at 12 % moisture",
        status="read",
    ),
    Source(
        key="shrinkage-equation",
        title="ICC 400, Design and construction of log structures, 302.2.2, as a public page prints it",
        place="change of size from shrinkage in a straight line below fibre saturation; the handbook's Eq. 13-3",
        status="read",
    ),
    Source(
        key="panel-grades",
        title="ANSI A208.1-2009 Particleboard",
        place="grade table: M-2, 13.0 and 2000 N/mm2; the article on boards has 14.5 and 2210 for a middle grade",
        status="recalled",
    ),
    Source(
        key="board-figures",
        title="A wood technologist's article on MDF in a woodworking magazine (2010)",
        place="typical minimum 3500 psi and 0.35 million psi; a shelf formula of the MDF industry has 2500 N/mm2",
        status="read",
    ),
    Source(
        key="emc-equation",
        title="USDA Forest Products Laboratory, FPL-RN-0268, Equilibrium Moisture Content of Wood",
        place="Hailwood-Horrobin equation and coefficients; also Wood Handbook Eq. 4-5",
        status="read",
    ),
    Source(
        key="nds",
        title="American Wood Council, National Design Specification for Wood Construction, 2015/2018",
        place=(
            "Eq. 12.2-1 to 12.2-6, 12.3-1 to 12.3-11, 12.4-1, 12.4-2; 12.1, 12.5; Tables 2.3.2, 12.2A, 12.3.1A, "
            "12.3.1B, 12.3.3, 12.3.3A, 12.5.1C, I1, L2, L3"
        ),
        status="read",
    ),
    Source(
        key="nds-recalled",
        title="American Wood Council, National Design Specification, its Commentary and Supplement",
        place=(
            "C12.1.5.7 distances of thin screws; Table 12.3.3B boards as wood of 0.42; across the grain 425 psi; "
            "tips of lags in Table L2"
        ),
        status="recalled",
    ),
    Source(
        key="humid-air",
        title="ASHRAE Handbook, Fundamentals (2017)",
        place="ch. 1, Eq. 5, 6, 22, 33 and 35, as a public program types them; agreed by that program and another",
        status="read",
    ),
    Source(
        key="iso-13788",
        title="ISO 13788, Hygrothermal performance, internal conditions",
        place="Annex A, vapour excess by class and room warmth, as two public programs type them",
        status="read",
    ),
    Source(
        key="panel-movement",
        title="EN 12872 / CEN/TS 12872, Wood-based panels, guidance on use",
        place=(
            "change of length for 1 % of moisture: 0.5 mm/m of MDF and particleboard (the board makers' guide, "
            "read, has 0.33 from 9 to 12 %), 0.15 of plywood, 0.3 of OSB"
        ),
        status="recalled",
    ),
    Source(
        key="surface-humidity",
        title="ISO 13788, Hygrothermal performance, critical surface humidity",
        place="at most 80 % at a surface for several days, as BS 5250, Annex D quotes it",
        status="read",
    ),
    Source(
        key="drying-lines",
        title="USDA Forest Products Laboratory, FPL-RP-489, shrinkage of lumber",
        place="abstract: straight lines of width and thickness, 8 to 19 % moisture",
        status="read",
    ),
    Source(
        key="nds-creep",
        title="American Wood Council, published answer on NDS 3.5.2",
        place="creep factor 1.5 for seasoned lumber; single pieces range from 1 to 3",
        status="read",
    ),
    Source(
        key="eurocode-5",
        title="EN 1995-1-1:2004, Design of timber structures",
        place="Table 3.2, kdef in service classes 1 and 2, as a public program types it",
        status="read",
    ),
    Source(
        key="wood-stress-practice",
        title="ASTM D245, Establishing structural grades for visually graded lumber",
        place="fifth percentile, over 1.62 for ten years and 1.3 for safety (2.1), as a building magazine explains it",
        status="read",
    ),
    Source(
        key="column-example",
        title="Residential Structural Design Guide, 2nd ed. (2017), housing department of the United States",
        place="solved example 5.6, a column 4x4 of spruce-pine-fir, as a public program types it",
        status="read",
    ),
    Source(
        key="column-recalled",
        title="American Wood Council, National Design Specification",
        place="3.7.1 columns, slenderness up to 50; Appendix D: E_min, spread of stiffness by kind",
        status="recalled",
    ),
    Source(
        key="shear-modulus",
        title="Panel industry's technical note TT-082, True and apparent moduli of elasticity",
        place="text under Eq. 4: shear rigidity of solid wood taken as 1/16 of the true modulus",
        status="read",
    ),
    Source(
        key="beam-tables",
        title="Beam formulas with shear and moment diagrams (AWC Design Aid 6, AISC beam tables)",
        place="simple, fixed, propped and overhanging beams, continuous spans; agreed by finite elements",
        status="computed",
    ),
    Source(
        key="transformed-section",
        title="Transformed section of two materials, parallel axis theorem",
        place="derived here; agreed by an independent section package",
        status="computed",
    ),
    Source(
        key="adjustment",
        title="Least-squares adjustment with data snooping (Baarda 1968)",
        place="w-test and chi-square test; computed as the published networks under tests/reference",
        status="computed",
    ),
    Source(
        key="statics",
        title="Equilibrium of moments about the tipping edge",
        place="derived here",
        status="computed",
    ),
    Source(
        key="aws-2009",
        title="Architectural Woodwork Standards, 1st edition (2009)",
        place="1.2.21.2 to 1.2.21.3, p. 253; 4.4.14.10, p. 279; pp. 241-307",
        status="read",
    ),
    Source(
        key="awi-0620",
        title="ANSI/AWI 0620-2018, Finish carpentry and installation",
        place="3.1, 3.4.1.1",
        status="read",
    ),
    Source(
        key="clothing-storage",
        title="16 CFR 1261 / ASTM F2057-23, Safety standard for clothing storage units",
        place=(
            "scope, child's weight and interlock, as the commission's guidance and 88 FR 28403 give them; a "
            "restraint's 50 lb, as a test laboratory does"
        ),
        status="read",
    ),
    Source(
        key="clothing-storage-recalled",
        title="ASTM F2057-23",
        place="9.2.1 to 9.2.3, clothes, pull and block",
        status="recalled",
    ),
    Source(
        key="furniture-tests",
        title="EN 14749:2016 and EN 16122:2012, Domestic storage furniture, tests",
        place="general: 10 N for 1 kg, tolerances; 10 and 11: where forces are put",
        status="read",
    ),
    Source(
        key="kitchen-cabinets",
        title="ANSI/KCMA A161.1, Kitchen and vanity cabinets",
        place="5.1 shelf test, as a laboratory sums it up",
        status="read",
    ),
    Source(
        key="laboratory-shelves",
        title="SEFA, Laboratory furniture",
        place="7.1 shelf test, as a test report quotes its limit",
        status="read",
    ),
    Source(
        key="panel-shelving",
        title="Composite-panel shelving bulletin, as a trade article quotes it",
        place="visible sag of boards",
        status="read",
    ),
    Source(
        key="nec-314",
        title="NFPA 70, National Electrical Code",
        place="314.20 set-back of boxes, 314.29 access to boxes",
        status="read",
    ),
    Source(
        key="floor-loads",
        title="Quoted floor live loads of the International codes and ASCE 7",
        place="rooms 40 psf (1.9 kPa), bedrooms 30 psf (1.4 kPa), stack rooms 150 psf or 65 lb/ft3; stack conditions",
        status="read",
    ),
    Source(
        key="floor-loads-recalled",
        title="ASCE 7, Table 4.3-1",
        place="note on stack rooms: depth of shelves",
        status="recalled",
    ),
    Source(
        key="site-codes",
        title="International Residential Code as quoted",
        place="escape openings R310, low glazing R308, trim at fireplaces",
        status="read",
    ),
    Source(
        key="lead-rule",
        title="40 CFR 745, Renovation, Repair and Painting",
        place="745.83, houses built before 1978",
        status="read",
    ),
    Source(
        key="anchor-maker",
        title="The anchor maker's own paper, as typed in the brief",
        place="pull allowed in this wall",
        status="read",
    ),
    Source(
        key="lifting-guidance",
        title="Lifting equation of the United States' institute for safety at work (1994)",
        place="51 lb at most, under ideal circumstances, as a university's material-handling page gives it",
        status="read",
    ),
    Source(
        key="fitting-guides",
        title="Trade articles on fitting cabinets, trim and caulk",
        place="screw and nail lengths, thread in studs, fillers, gaps that caulk covers",
        status="read",
    ),
    Source(
        key="inset-doors",
        title="Trade articles on inset and overlay cabinet doors",
        place="gaps: 3/32 in a side, 3/16 in single, 9/32 in pair, 1/8 to 3/16 in between overlay doors",
        status="read",
    ),
    Source(
        key="mdf-guide",
        title="MDF industry guidance on screws, staples and shelves",
        place="distances from corners and edges; shelf sag, section 11",
        status="read",
    ),
    Source(
        key="shelf-practice",
        title="Shelf loads and visible sag as the trade quotes them",
        place="37 kg a metre for a full shelf; 1/32 in per foot is seen",
        status="common practice",
    ),
    Source(
        key="trade-practice",
        title="Common practice of the trade",
        place="no source; replace it with your own figure",
        status="common practice",
    ),
    Source(
        key="coating-guides",
        title="General guidance of coating makers",
        place="about 10 square metres a litre; primer 200 to 300 square feet a gallon; read the tin",
        status="read",
    ),
    Source(
        key="gluing-guides",
        title="General guidance of glue makers",
        place=(
            "clamp pressure by hardness, clamps 8 to 12 in apart and 1 1/2 to 2 in from the ends, 30 to 60 minutes, "
            "24 hours, wood at 6 to 8 %"
        ),
        status="read",
    ),
    Source(
        key="gluing-recalled",
        title="General guidance of glue makers",
        place="open time 10 minutes, 200 g/m2, 10 C; read the label",
        status="recalled",
    ),
    Source(
        key="clamp-test",
        title="A woodworking magazine's test of common clamps (2010)",
        place=(
            "mean force by hand: parallel-jaw 370 lb, one-hand 470, aluminium bar 680, 3/4 in pipe 1050, I-beam bar "
            "1350; weaker hands 60 % of it"
        ),
        status="read",
    ),
    Source(
        key="en-315",
        title="EN 315, Plywood, tolerances for dimensions",
        place="sanded panels, thickness",
        status="read",
    ),
    Source(
        key="ps-1",
        title="US Product Standard PS 1, Structural plywood",
        place="thickness by performance category, 5.10",
        status="read",
    ),
    Source(
        key="ps-20",
        title="US Product Standard PS 20, American softwood lumber",
        place="dressed dry sizes",
        status="read",
    ),
    Source(
        key="geodetic-network-examples",
        title="Geodetic Network Adjustment Examples, Stuttgart, rev. 3.5 (2020)",
        place="worked networks of Ghilani, Wolf, Strang and Borre, Benning, Niemeier, Hoepke",
        status="read",
    ),
    Source(
        key="level-grades",
        title="Trade article on spirit and digital levels; instrument manual of a line laser",
        place="0.5 mm/m for a good site level, steps of 0.05 deg for a digital one, 0.3 mm/m for a line laser",
        status="read",
    ),
    Source(
        key="mid-tapes",
        title="Directive 2014/32/EU, Measuring instruments, Annex MI-008",
        place="a + bL for material measures of length, classes I to III",
        status="read",
    ),
)


def source(key: str) -> Source:
    """Return the source of that key."""
    return next(each for each in SOURCES if each.key == key)
