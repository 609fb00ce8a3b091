"""Suppliers' price files: read beside the shop file, and refused with every problem at once."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from nookwright.basics.problems import InvalidInputError
from nookwright.files.job_folder import read_job
from nookwright.stages.inputs.shop import Pack, Tax

WriteJob = Callable[..., Path]

NAMED = """\
currency: EUR
tax: {percent: 7.5, included: no}
suppliers:
  - {name: yard, prices: yard.yaml, delivery: 35}
"""

YARD = """\
currency: EUR
sheets:
  - {key: birch-18, price: 71.50}
boards:
  - {key: strip, lengths: {2400: 6.10}}
packs:
  - {item: wood screw 40, amount: 500, price: 13.90, serves: [wood screw 38]}
"""


def job_with(write_job: WriteJob, yard: str | None) -> Path:
    """Return a job whose shop file names a yard, with this price file."""
    folder = write_job("shop.yaml", "currency: EUR\n", NAMED)
    if yard is not None:
        (folder / "yard.yaml").write_text(yard, encoding="utf-8")
    return folder


def problems_of(folder: Path) -> list[str]:
    """Return the sentences a job is refused with."""
    with pytest.raises(InvalidInputError) as caught:
        read_job(folder)
    return str(caught.value).splitlines()


def test_a_supplier_is_read_with_its_prices(write_job: WriteJob) -> None:
    """By key and length, delivery as the shop file says, the tax beside it."""
    shop = read_job(job_with(write_job, YARD)).shop
    (yard,) = shop.suppliers
    assert shop.tax == Tax(percent=Decimal("7.5"), included=False)
    assert (yard.name, yard.delivery, yard.sheets) == ("yard", Decimal(35), {"birch-18": Decimal("71.50")})
    assert yard.boards == {"strip": {2400.0: Decimal("6.10")}}
    (pack,) = yard.packs
    assert pack == Pack(
        item="wood screw 40", amount=500, price=Decimal("13.90"), serves=("wood screw 38",), where=pack.where
    )


def test_a_price_file_that_is_not_there_is_told_where_it_is_named(write_job: WriteJob) -> None:
    """At the line of the shop file."""
    (said,) = problems_of(job_with(write_job, None))
    assert said.startswith("shop.yaml:4:26 suppliers[1].prices: found no file")


def test_wrong_keys_and_currency_are_told_together(write_job: WriteJob) -> None:
    """Prices are not exchanged; a key must be one of the shop file's."""
    spoilt = YARD.replace("EUR", "USD").replace("birch-18", "brich-18").replace("strip", "stripe")
    said = problems_of(job_with(write_job, spoilt))
    assert [line.split(" found ")[0] for line in said] == [
        "yard.yaml:1:11 currency:",
        "yard.yaml:3:11 sheets[1].key:",
        "yard.yaml:5:11 boards[1].key:",
    ]
    assert said[1].endswith("Did you mean birch-18?")


def test_two_suppliers_of_one_name_are_refused(write_job: WriteJob) -> None:
    """The list could not tell them apart."""
    twice = NAMED + "  - {name: yard, prices: yard.yaml}\n"
    folder = write_job("shop.yaml", "currency: EUR\n", twice)
    (folder / "yard.yaml").write_text(YARD, encoding="utf-8")
    assert any('"yard" a second time' in line for line in problems_of(folder))


def test_what_stands_twice_in_a_price_file_is_refused(write_job: WriteJob) -> None:
    """A sheet, a board, a length and a size of pack: no reading would tell which price holds."""
    twice = """\
currency: EUR
sheets:
  - {key: birch-18, price: 71.50}
  - {key: birch-18, price: 61.50}
boards:
  - {key: strip, lengths: {2400: 6.10, 2400 mm: 5.10}}
  - {key: strip, lengths: {2400: 6.10}}
packs:
  - {item: wood glue, amount: 0.5 l, price: 7.20}
  - {item: wood glue, amount: 0.75 l, price: 9.20}
  - {item: wood glue, amount: 500 ml, price: 6.20}
"""
    said = problems_of(job_with(write_job, twice))
    assert [line.split(":")[1] for line in said] == ["4", "6", "7", "11"]
    assert '"birch-18" a second time; expected each key once; it stands on line 3 too' in said[0]
    assert '"2400 mm" a second time; expected each length once, with one price' in said[1]
    assert '"wood glue, 0.5 a pack" a second time; expected one price for each size of pack' in said[3]


@pytest.mark.parametrize(
    ("item", "amount", "expected"),
    [
        ("wood screw 40", "5 l", "pieces or sheets"),
        ("wood glue", "0.5 m", "l or gal"),
        ("caulk", "12 l", "m or ft"),
        ("shelf pin", "20 m", "pieces or sheets"),
    ],
)
def test_a_pack_in_a_unit_that_does_not_fit_is_refused(
    write_job: WriteJob, item: str, amount: str, expected: str
) -> None:
    """Half a metre of glue would be taken for half a litre."""
    yard = f"currency: EUR\npacks:\n  - {{item: {item}, amount: {amount}, price: 13.90}}\n"
    (said,) = problems_of(job_with(write_job, yard))
    assert f'found "{amount}"; expected a number, bare or in {expected}.' in said


def test_a_price_file_tells_whether_it_holds_the_tax(write_job: WriteJob) -> None:
    """Only beside a rate in the shop file; left out, its prices are as the shop file's."""
    (yard,) = read_job(job_with(write_job, YARD.replace("EUR\n", "EUR\ntax included: yes\n"))).shop.suppliers
    assert yard.tax_included is True
    (yard,) = read_job(job_with(write_job, YARD)).shop.suppliers
    assert yard.tax_included is None
    untaxed = "\n".join(line for line in NAMED.splitlines() if not line.startswith("tax")) + "\n"
    folder = write_job("shop.yaml", "currency: EUR\n", untaxed)
    (folder / "yard.yaml").write_text(YARD.replace("EUR\n", "EUR\ntax included: no\n"), encoding="utf-8")
    (said,) = problems_of(folder)
    assert "expected `tax` with its rate in the shop file" in said


def test_no_supplier_takes_the_name_of_the_shop_file(write_job: WriteJob) -> None:
    """Its orders would be mixed with those at the shop file's own prices."""
    folder = write_job("shop.yaml", "currency: EUR\n", NAMED.replace("name: yard", "name: the shop file"))
    (folder / "yard.yaml").write_text(YARD, encoding="utf-8")
    assert any("expected another name" in line for line in problems_of(folder))


SIZES = "grain: yes, sizes: [{size: 1250 x 1250, price: 43.10}], "


def test_other_sizes_of_a_sheet_have_prices_of_their_own(write_job: WriteJob) -> None:
    """A supplier's half sheet, told to the millimetre or nearly; a size nobody named is refused."""
    yard = """\
currency: EUR
sheets:
  - {key: birch-18, price: 71.50}
  - {key: birch-18, size: 1252 x 1250, price: 39.90}
"""
    folder = job_with(write_job, yard)
    shop_file = folder / "shop.yaml"
    text = shop_file.read_text(encoding="utf-8")
    assert "key: birch-18, " in text
    shop_file.write_text(text.replace("key: birch-18, ", f"key: birch-18, {SIZES}", 1), encoding="utf-8")
    (its,) = read_job(folder).shop.suppliers
    assert its.sheets == {"birch-18": Decimal("71.50"), "birch-18 1250 x 1250": Decimal("39.90")}
    (folder / "yard.yaml").write_text(yard.replace("1252", "1200"), encoding="utf-8")
    (said,) = problems_of(folder)
    assert "found 1200 x 1250 mm; expected a size for sale of birch-18 in the shop file, in mm:" in said
    (folder / "yard.yaml").write_text(yard.replace("key: birch-18, price", "key: birch-18, size: 1250 x 1250, price"))
    (said,) = problems_of(folder)
    assert '"birch-18 1250 x 1250" a second time' in said
