"""Shop: stock, saw, fastenings, finishes and prices; one file can serve many jobs."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from nookwright.basics.problems import NOWHERE, Where


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """Another size of a sheet good.

    Args:
        length_mm, width_mm: its size; the face grain runs along the length. [mm]
        price: of one; nothing for an offcut.
        offcut: whether it is an offcut on hand: its edges are clean, and there are only so many.
        count: how many offcuts there are.
        shared: whether it lies in the offcut file that jobs share; else the shop file names it.
    """

    length_mm: float
    width_mm: float
    price: Decimal = Decimal(0)
    offcut: bool = False
    count: int = 0
    shared: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStock:
    """A sheet good for sale or on hand.

    Args:
        key: what briefs call it, for example `birch-18`.
        name: what labels print.
        wood: key of its properties in `trade/tables/woods.csv`.
        length_mm, width_mm: sheet size; the face grain runs along the length. [mm]
        thickness_mm: real thickness of this batch. [mm]
        grained: whether parts must keep to the face grain.
        price: per sheet.
        on_hand: sheets already there, used first and free.
        sizes: other sizes of it, for sale or left over.
    """

    key: str
    name: str
    wood: str
    length_mm: float
    width_mm: float
    thickness_mm: float
    grained: bool
    price: Decimal
    on_hand: int = 0
    sizes: tuple[SheetSize, ...] = ()
    where: Where = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardLength:
    """A length a board is sold in, with its price."""

    length_mm: float
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardOffcut:
    """Pieces of a board on hand with clean ends: used first and free. [mm]

    Args:
        width_mm: of a strip narrower than the board, its edges straight; 0 for a piece of full width.
        shared: whether they lie in the offcut file that jobs share; else the shop file names them.
        cut_from: the board that it is cut out of to leave a flaw behind, and from where to where, in words; empty for
            a piece as it lies there.
    """

    length_mm: float
    width_mm: float = 0.0
    count: int = 1
    shared: bool = False
    cut_from: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardStock:
    """Timber sold by the length.

    Args:
        key: what briefs call it, for example `pine-2x4`.
        name: what labels print.
        wood: key of its properties in `trade/tables/woods.csv`.
        thickness_mm, width_mm: real cross-section; the thickness once its faces are flat. [mm]
        lengths: lengths for sale.
        offcuts: pieces of it on hand.
        straighten_mm: taken off a board's edges to make them straight: its crook, and what jointing takes. [mm]
        flatten_mm: taken off both faces together to make them flat: its cup and twist. [mm]
        one_face: whether only one face is fit to be seen: it becomes face A, and no piece is turned over.
    """

    key: str
    name: str
    wood: str
    thickness_mm: float
    width_mm: float
    lengths: tuple[BoardLength, ...]
    offcuts: tuple[BoardOffcut, ...] = ()
    straighten_mm: float = 0.0
    one_face: bool = False
    flatten_mm: float = 0.0
    where: Where = field(default=NOWHERE, compare=False)

    @property
    def bought_thickness_mm(self) -> float:
        """How thick it is bought, before its faces are planed flat. [mm]"""
        return self.thickness_mm + self.flatten_mm

    @property
    def straight_width_mm(self) -> float:
        """What is left of its width once its edges are straight. [mm]"""
        return self.width_mm - self.straighten_mm


LEAST_KEPT_MM = 50.0
"""A piece narrower or shorter than this is never kept, however small the shop's `keep`: as the files' fields say."""

LEAST_STRIP_MM = 5.0
"""A strip of board narrower than this is never kept, as the files' fields say."""

Goal = Literal["leftover", "settings", "turns"]
"""What is looked at once the money is settled: the largest leftover, few fence settings, few turns of the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """What the saws take and how far they tilt.

    Args:
        kerf_mm: width of a cut. [mm]
        trim_mm: taken off each factory edge of a sheet before it counts. [mm]
        end_trim_mm: taken off the first end of a board. [mm]
        far_end_trim_mm: taken off its other end; 0 where that is good enough as it came. [mm]
        max_tilt_deg: greatest blade tilt from square. [deg]
        keep_mm: leftovers with both sides at least this are worth keeping. [mm]
        keep_strip_mm: strips that ripping leaves are kept from this width on; 0 where none is. [mm]
        stages: how many directions it cuts one after the other, each within the pieces of the one before: 2 for strips
            that are cut to length; 0 for as many as it takes. A last trim of single parts is not counted.
        rip_mm: widest piece between the table saw's fence and its blade; 0 without a table saw. [mm]
        crosscut_mm: longest cut on the table saw's sled or sliding table; 0 without one. [mm]
        track_mm: longest cut with the saw on its track; 0 without one. [mm]
        lift_kg: heaviest piece that one person turns on the saw; heavier ones are parted first. [kg]
        goals: what is looked at once the money is settled, in order.

    Note:
        With none of rip, crosscut and track given, any cut can be made. 18 kg: common practice, no source.
    """

    kerf_mm: float = 3.2
    trim_mm: float = 5.0
    end_trim_mm: float = 10.0
    far_end_trim_mm: float = 0.0
    max_tilt_deg: float = 47.0
    keep_mm: float = 200.0
    keep_strip_mm: float = 0.0
    stages: int = 0
    rip_mm: float = 0.0
    crosscut_mm: float = 0.0
    track_mm: float = 0.0
    lift_kg: float = 18.0
    goals: tuple[Goal, ...] = ("leftover", "settings", "turns")

    @property
    def kept_from_mm(self) -> float:
        """Shortest end left over of a board that is kept. [mm]"""
        return max(self.keep_mm, LEAST_KEPT_MM)

    def keeps_strip(self, length_mm: float, width_mm: float) -> bool:
        """Return whether a strip that ripping left along a board is kept.

        Args:
            length_mm: its length. [mm]
            width_mm: its width. [mm]
        """
        narrowest = max(self.keep_strip_mm, LEAST_STRIP_MM)
        return self.keep_strip_mm > 0 and width_mm >= narrowest and length_mm >= self.kept_from_mm

    @property
    def limited(self) -> bool:
        """Whether there are cuts that it cannot make."""
        return bool(self.rip_mm or self.crosscut_mm or self.track_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """Something sold by the pack: screws, pins, glue, paint.

    Args:
        item: what it is, in the tool's words, for example `pocket screw 32` (see `stages/buying/quantities.py`).
        amount: how much is in a pack, in the item's unit (pieces, litres, metres).
        price: per pack.
        serves: other items it may be bought for, for example a screw 2 mm longer.
    """

    item: str
    amount: float
    price: Decimal
    serves: tuple[str, ...] = ()
    where: Where = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A finishing product, by its own tin.

    Args:
        key: what briefs call it.
        name: what the buying list prints.
        cover_m2_per_litre: spread per coat. [m2/litre]
        recoat_h: hours before the next coat. [h]
        cure_days: days before shelves are loaded. [days]
    """

    key: str
    name: str
    cover_m2_per_litre: float
    recoat_h: float
    cure_days: float
    where: Where = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue:
    """The wood glue, by its own label, and the clamps at hand.

    Args:
        open_min: from the first line spread to the last clamp closed. [min]
        clamp_min: in the clamps. [min]
        rest_h: before it is stressed. [h]
        least_c: least warmth of room, wood and glue. [C]
        spread_g_m2: glue on a line. [g/m2]
        clamp_n: what one clamp presses: as an aluminium bar clamp did in [clamp-test]. [N]
    """

    open_min: float = 10.0
    clamp_min: float = 45.0
    rest_h: float = 24.0
    least_c: float = 10.0
    spread_g_m2: float = 200.0
    clamp_n: float = 3000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tax:
    """A tax on everything bought.

    Args:
        percent: its rate. [%]
        included: whether the prices hold it already.
    """

    percent: Decimal
    included: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier:
    """One supplier's prices for what the shop file names; what it does not price it does not sell.

    Args:
        name: what the buying list prints.
        delivery: charged once for everything that is bought there.
        sheets: price of a sheet by its key.
        boards: prices of a board by its key, then by length in mm.
        packs: what it sells by the pack.
        tax_included: whether its prices hold the tax already; None where they are as the shop file's own.
    """

    name: str
    delivery: Decimal = Decimal(0)
    sheets: dict[str, Decimal] = field(default_factory=dict)
    boards: dict[str, dict[float, Decimal]] = field(default_factory=dict)
    packs: tuple[Pack, ...] = ()
    tax_included: bool | None = None
    where: Where = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The shop: everything a job draws on that is not the room or the wish.

    Args:
        currency: of every price.
        sheets, boards: stock for sale or on hand, with the prices that plans are made by.
        saw: what the saw takes.
        screw_lengths_mm: screw lengths that can be had. [mm]
        packs: things sold by the pack.
        products: finishing products.
        waste_factor: what quantities of glue, paint, filler, caulk and edging are multiplied by.
        tax: the tax on everything bought; None when prices are what is paid.
        glue: the wood glue and the clamps.
        suppliers: others' prices for the same things, to compare.
    """

    currency: str
    sheets: tuple[SheetStock, ...]
    boards: tuple[BoardStock, ...]
    saw: Saw = Saw()
    screw_lengths_mm: tuple[float, ...] = (16, 20, 25, 30, 32, 35, 38, 40, 45, 50, 60, 64, 70, 75, 80, 90, 100)
    packs: tuple[Pack, ...] = ()
    products: tuple[Product, ...] = ()
    waste_factor: float = 1.1
    tax: Tax | None = None
    glue: Glue = Glue()
    suppliers: tuple[Supplier, ...] = ()

    def stock(self, key: str) -> SheetStock | BoardStock | None:
        """Return the stock of that key, or None."""
        everything: tuple[SheetStock | BoardStock, ...] = (*self.sheets, *self.boards)
        return next((stock for stock in everything if stock.key == key), None)
