import pytest

from labels.codes import AddressUnfit, grouped, matrix, tag_url
from nursery.templatetags.tepal import plate


def test_it_works():
    drawn = matrix(tag_url("https://tags.example", 208746))
    assert (drawn.size, drawn.level, drawn.version) == (29, "H", 3)


@pytest.mark.parametrize(
    ("address", "text"),
    [
        ("https://tags.example", "HTTPS://TAGS.EXAMPLE/T/18"),
        ("https://tags.example/", "HTTPS://TAGS.EXAMPLE/T/18"),
        ("  https://Tags.Example ", "HTTPS://TAGS.EXAMPLE/T/18"),
        ("http://192.168.1.9:8000", "HTTP://192.168.1.9:8000/T/18"),
        ("https://bücher.example", "HTTPS://XN--BCHER-KVA.EXAMPLE/T/18"),
        ("http://[::1]:80", "HTTP://[::1]:80/T/18"),
    ],
)
def test_addresses_as_they_are_printed(address: str, text: str):
    assert tag_url(address, 18) == text


@pytest.mark.parametrize("address", ["", "tags.example", "ftp://tags.example", "https://", "//tags.example"])
def test_an_address_without_scheme_or_host_is_refused(address: str):
    with pytest.raises(AddressUnfit) as refusal:
        tag_url(address, 18)
    assert str(refusal.value) == f"The public address must begin with https:// and a host name; it is “{address}”."


@pytest.mark.parametrize(
    "address", ["https://x.example/tepal", "https://x.example?a=1", "https://x.example#a", "https://ida@x.example"]
)
def test_an_address_with_more_than_a_host_is_refused_because_paths_differ_in_capitals(address: str):
    with pytest.raises(AddressUnfit) as refusal:
        tag_url(address, 18)
    assert str(refusal.value) == f"The public address must end with the host name; it is “{address}”."


def test_a_host_that_no_network_can_find_is_refused():
    with pytest.raises(AddressUnfit) as refusal:
        tag_url("https://" + "ä" * 70 + ".example", 18)
    assert str(refusal.value).endswith("is not a host name.")


@pytest.mark.parametrize("number", [7, 18, 208, 20874, 208746, 2087461, 123456789012345])
def test_numbers_are_grouped_on_tags_as_on_screen(number: int):
    assert grouped(number) == plate(number)


def test_runs_rebuild_the_three_corner_squares():
    drawn = matrix(tag_url("https://tags.example", 208746))
    dark = {(row, start + step) for row, start, length in drawn.runs for step in range(length)}
    for top, left in [(0, 0), (0, 22), (22, 0)]:
        ring = {(top + row, left + column) for row in range(7) for column in range(7) if {row, column} & {0, 6}}
        heart = {(top + row, left + column) for row in range(2, 5) for column in range(2, 5)}
        assert ring | heart <= dark
        assert not dark & {(top + 1, left + column) for column in range(1, 6)}


def test_runs_never_touch_or_overlap():
    drawn = matrix(tag_url("https://tags.example", 208746))
    for (row, start, length), (next_row, next_start, _) in zip(drawn.runs, drawn.runs[1:], strict=False):
        assert (next_row, next_start) > (row, start + length) or next_row > row


@pytest.mark.parametrize("version", [1, 3])
@pytest.mark.parametrize("host", ["t.example", "tags.example", "1.2.3.4:8000", "t" * 30 + ".example", "t" * 60])
def test_a_symbol_is_drawn_as_large_as_was_said_whatever_its_digits(host: str, version: int):
    for digits in range(1, 13):
        for number in (10 ** (digits - 1), int("9182736450918"[:digits]), 10**digits - 1):
            symbol = matrix(tag_url(f"https://{host}", number), version=version)
            last = max(row for row, _, _ in symbol.runs), max(start + length for _, start, length in symbol.runs)
            assert last == (symbol.size - 1, symbol.size)


def test_the_smallest_symbol_can_be_asked_for():
    drawn = matrix(tag_url("https://tags.example", 208746), version=1)
    assert (drawn.size, drawn.level) == (25, "Q")
