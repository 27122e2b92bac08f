"""Codes on tags against facts from outside: capacities and versions of the standard, and trials with blur and dirt."""

import json
from pathlib import Path

import pytest
import segno

from labels.codes import QUIET, matrix, tag_url
from labels.frame import LARGE_MODULE, LEAST_MODULE, SAFE_MODULE, frame_of
from tests.labels.cast import ROLL, SHEET, labels
from tests.labels.reading import blurred, drawn, read

FACTS = json.loads(Path(__file__).with_name("labels.json").read_text(encoding="utf-8"))
LEVELS = "LMQH"
SOFT = 1.5 / 203 * 300
"""Blur of 1.5 dots at 203 dpi, in dots at 300."""


def host(letters: int) -> str:
    """A host name of that many letters."""
    return "t" * (letters - len(".example")) + ".example"


def best_level(text: str, *, version: int) -> str:
    """The highest level at which segno, another library, fits the text into the version; "" if none does."""
    fits = [level for level in LEVELS if _segno_version(text, level) <= version]
    return fits[-1] if fits else ""


def _segno_version(text: str, level: str) -> int:
    return int(segno.make(text, error=level, boost_error=False, micro=False).version)


def test_an_address_in_capitals_uses_only_the_signs_that_pack_densest():
    """Source: segno.consts.ALPHANUMERIC_CHARS, the alphanumeric mode of ISO/IEC 18004."""
    assert set(tag_url("https://tags.example:8443", 208746)) <= set(FACTS["alphanumeric"]["characters"])


def test_the_address_of_the_facts_is_the_one_we_write():
    """30 letters, as measured with segno 1.6.6."""
    url = tag_url("https://tags.example", 1234567)
    assert (url, len(url)) == (FACTS["url"], FACTS["url_length"])


@pytest.mark.parametrize("letters", range(9, 60))
def test_seven_digits_get_the_highest_level_that_version_3_holds(letters: int):
    """Source: longest_host of labels.json (bits of ISO/IEC 18004, confirmed with segno 1.6.6)."""
    longest = FACTS["longest_host"]["values"]
    expected = next(level for level in "HQML" if letters <= longest[f"3{level}"])
    symbol = matrix(tag_url(f"https://{host(letters)}", 1234567))
    assert (symbol.version, symbol.level) == (3, expected)


def test_a_host_too_long_for_version_3_takes_the_next_at_its_highest_level():
    """Source: longest_host of labels.json: 60 letters are one more than 3-L holds; 4-M holds 72, 4-Q 49."""
    symbol = matrix(tag_url(f"https://{host(60)}", 1234567))
    assert (symbol.version, symbol.level) == (4, "M")


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("version", [1, 2, 3, 4])
def test_capacity_is_met_and_one_letter_more_is_too_much(version: int, level: str):
    """Source: alphanumeric_capacity of labels.json (public table of ISO/IEC 18004)."""
    capacity = FACTS["alphanumeric_capacity"]["values"][f"{version}{level}"]
    full, over = matrix("A" * capacity, version=version), matrix("A" * (capacity + 1), version=version)
    assert full.size == FACTS["sides"]["values"][str(version)]
    assert full.level == level
    assert over.version > version or LEVELS.index(over.level) < LEVELS.index(level)


@pytest.mark.parametrize("text", ["HTTPS://T.EXAMPLE/T/18", FACTS["url"], f"HTTPS://{host(25).upper()}/T/208746"])
@pytest.mark.parametrize("version", [2, 3, 4])
def test_another_library_agrees_on_the_best_level(text: str, version: int):
    """Oracle: segno 1.6.6."""
    symbol = matrix(text, version=version)
    assert symbol.version <= version
    assert symbol.level == best_level(text, version=version)


def test_the_quiet_zone_is_the_standard_one():
    """Source: ISO/IEC 18004 as stated in a vendor's manual; segno's default_border_size."""
    assert QUIET == FACTS["quiet_zone_modules"] == segno.make("A", micro=False).default_border_size


@pytest.mark.parametrize(("dots", "limit"), [(3, LEAST_MODULE), (4, SAFE_MODULE), (6, LARGE_MODULE)])
def test_module_limits_are_whole_dots_of_a_203_dpi_printer(dots: int, limit: float):
    """Source: mm_per_module of labels.json: 0.375, 0.5 and 0.751 mm."""
    assert limit == pytest.approx(FACTS["mm_per_module"]["203 dpi"][str(dots)], abs=0.015)


def test_the_usual_code_measures_18_and_a_half_mm_at_four_dots():
    """Source: smallest_module of labels.json, level H, 203 dpi: 18.5 mm with the quiet zone."""
    frame = frame_of(54, 25, 203, 29)
    assert (round(frame.side, 1), round(frame.module, 3)) == (18.5, 0.5)


@pytest.mark.parametrize("sigma", [0.5, 1.0])
def test_every_code_of_a_roll_is_read_through_soft_print(sigma: float):
    """Source: read_as_printed of labels.json: four dots a module passed 50 of 50 at level H up to a sigma of 1 dot."""
    texts = labels(50)
    roll = drawn(texts, ROLL)
    told = [read(blurred(roll.page(index, dpi=203), sigma)) for index in range(50)]
    assert told == [{tag_url(text.address, text.number)} for text in texts]


def test_every_code_of_a_sheet_is_read_through_soft_print():
    """Source: blur_rule of labels.json: sigma up to a quarter of a module; here 0.19 mm, a quarter of 0.76 mm."""
    texts = labels(24)
    sheet = drawn(texts, SHEET)
    told = [read(blurred(sheet.label(index, dpi=300), SOFT)) for index in range(24)]
    assert told == [{tag_url(text.address, text.number)} for text in texts]
