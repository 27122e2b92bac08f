"""Every answer says what its page may load and do."""

import pytest

from nursery.site.headers import CONTENT_POLICY

ADDRESSES = ["/up/", "/no-such-page/"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_the_content_policy_is_strict(stranger, address):
    """Read from the header as a browser does. Source: Content Security Policy Level 3, section 2.2.1."""
    header = stranger.get(address).headers["Content-Security-Policy"]
    policy = {name: rest for name, *rest in (part.split() for part in header.split(";"))}
    assert policy == {
        "default-src": ["'self'"],
        "object-src": ["'none'"],
        "base-uri": ["'none'"],
        "form-action": ["'self'"],
        "frame-ancestors": ["'none'"],
    }


@pytest.mark.parametrize("address", ADDRESSES)
def test_the_other_headers_stand_beside_it(stranger, address):
    headers = stranger.get(address).headers
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "camera=()" in headers["Permissions-Policy"]


def test_nothing_in_the_policy_lets_inline_or_outside_code_in():
    allowed = {source for sources in CONTENT_POLICY.values() for source in sources}
    assert allowed == {"'self'", "'none'"}


def test_over_https_a_plain_request_is_sent_there_and_told_to_stay(stranger, settings):
    settings.SECURE_SSL_REDIRECT = True
    settings.SECURE_HSTS_SECONDS = 60
    answer = stranger.get("/no-such-page/")
    assert (answer.status_code, answer.headers["Location"]) == (301, "https://testserver/no-such-page/")
    assert stranger.get("/up/", secure=True).headers["Strict-Transport-Security"].startswith("max-age=60")


def test_a_supervisor_may_ask_over_plain_http_whether_it_is_up(stranger, settings):
    settings.SECURE_SSL_REDIRECT = True
    assert stranger.get("/up/").content == b"ok"
