"""Guessing a password: eight wrong ones, then a pause for that name from that address, and for nobody else."""

import pytest
from django.contrib.auth import authenticate, login
from django.contrib.auth.models import AnonymousUser
from django.test import RequestFactory

from nursery.site.guessing import locked, name_tried
from tests.conftest import PASSWORD

HERE, ELSEWHERE = "192.0.2.7", "192.0.2.8"
LIMIT = 8


def _request(address=HERE):
    return RequestFactory().post("/sign-in/", REMOTE_ADDR=address)


def _try(name, password, address=HERE):
    return authenticate(_request(address), name=name, password=password)


def _guess(times, name="Ida Fern", address=HERE):
    for number in range(times):
        assert _try(name, f"guess number {number}", address) is None


def test_it_works(owner):
    assert _try("Ida Fern", PASSWORD) == owner


def test_seven_wrong_ones_do_not_lock(owner):
    _guess(LIMIT - 1)
    assert _try("Ida Fern", PASSWORD) == owner


def test_eight_wrong_ones_lock_even_the_right_one(owner):
    _guess(LIMIT)
    assert _try("Ida Fern", PASSWORD) is None


def test_writing_the_name_otherwise_is_the_same_name(owner):
    for name in ("Ida Fern", "ida fern", " IDA FERN ", "iDa Fern"):
        _guess(LIMIT // 4, name=name)
    assert _try("Ida Fern", PASSWORD) is None


def test_somebody_else_at_the_same_address_can_still_sign_in(owner, grower):
    _guess(LIMIT)
    assert _try("Tom Reed", PASSWORD) == grower


def test_a_stranger_elsewhere_cannot_lock_the_owner_out(owner):
    _guess(LIMIT, address=ELSEWHERE)
    assert _try("Ida Fern", PASSWORD) == owner


def test_after_a_quarter_of_an_hour_it_is_open_again(owner, time_machine):
    time_machine.move_to("2026-03-02 09:00:00+00:00", tick=False)
    _guess(LIMIT)
    time_machine.shift(14 * 60)
    assert _try("Ida Fern", PASSWORD) is None
    time_machine.move_to("2026-03-02 09:31:00+00:00", tick=False)
    assert _try("Ida Fern", PASSWORD) == owner


def test_signing_in_forgets_earlier_slips(owner, client):
    _guess(LIMIT - 1)
    request = _request()
    request.session = client.session
    login(request, _try("Ida Fern", PASSWORD))
    _guess(LIMIT - 1)
    assert _try("Ida Fern", PASSWORD) == owner


@pytest.mark.parametrize(
    ("credentials", "name"),
    [({"name": " Ida "}, "ida"), ({"username": "IDA"}, "ida"), (None, ""), ({}, ""), ({"name": "x" * 999}, "x" * 255)],
)
def test_the_name_is_read_however_it_comes(credentials, name):
    assert name_tried(_request(), credentials) == name


def test_the_page_says_how_long_to_wait(db):
    request = _request()
    request.user, request.session, request._messages = AnonymousUser(), {}, []
    answer = locked(request, None, None)
    assert (answer.status_code, answer.headers["Retry-After"]) == (429, "900")
    assert "Signing in from here rests for 15 minutes." in answer.content.decode()
