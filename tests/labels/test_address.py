import pytest

from labels.address import warnings


def test_a_short_name_under_https_needs_no_word():
    assert warnings("https://tags.example") == []


def test_plain_http_is_told():
    assert warnings("http://tags.example") == [
        "The address begins with http://, so tags will open unprotected for as long as they hang. "
        "Set up https before the first tag, if you can."
    ]


@pytest.mark.parametrize("host", ["192.168.1.20", "10.0.0.7", "[fd00::1]"])
def test_a_number_instead_of_a_name_is_told(host: str):
    [sentence] = warnings(f"https://{host}")
    assert sentence == (
        f"The address {host.strip('[]')} is a number that changes when the network does; tags printed now would then "
        "open nothing. Give the computer a name and set it in Office first; the digits on each tag keep working."
    )


def test_a_port_is_told():
    assert warnings("https://tags.example:8443")[0] == (
        "The address holds the port 8443; if the port is ever changed, tags printed until then open nothing."
    )


def test_this_computer_alone_is_told():
    assert warnings("http://localhost:8000")[0] == (
        "The name localhost opens only on this computer; a phone that reads such a tag finds nothing."
    )


@pytest.mark.parametrize(("host", "told"), [("t" * 17, False), ("t" * 18, True), ("t" * 13 + ":8443", True)])
def test_a_host_longer_than_17_letters_is_told_and_a_port_counts(host: str, told: bool):
    sentence = (
        f"The host is {len(host)} letters long; up to 17 leave room for the strongest error correction, "
        "which reads a tag through more dirt."
    )
    assert (sentence in warnings(f"https://{host}")) == told


def test_everything_wrong_is_told_at_once():
    assert len(warnings("http://192.168.100.200:8000")) == 4


@pytest.mark.parametrize("address", ["", "tags.example", "https://tags.example/tepal"])
def test_what_cannot_be_printed_is_told_alone(address: str):
    [sentence] = warnings(address)
    assert sentence.startswith("The public address must ")


@pytest.mark.parametrize("address", ["https://tags.example:port", "https://tags.example:99999", "https://[::1"])
def test_what_is_no_web_address_is_told_with_an_example(address: str):
    assert warnings(address) == [f"“{address}” is not a web address; it should look like https://tags.example."]
