"""Signed out, every number of a tag looks the same: nobody learns which ones there are."""

import re

import pytest
from django.test import Client

from tests.making import Nursery, tag_of


def _seen(client: Client, number: str) -> tuple[int, str, str]:
    """Status, where it leads without the number, and the page there without the number and the form's key."""
    answer = client.get(f"/t/{number}/")
    page = client.get(answer["Location"])
    body = page.content.decode().replace(number, "NUMBER")
    body = re.sub(r'value="[A-Za-z0-9]{64}"', 'value="KEY"', body)
    body = re.sub(r'"X-CSRFToken": "[A-Za-z0-9]{64}"', "KEY", body)
    return answer.status_code, answer["Location"].replace(number, "NUMBER"), f"{page.status_code}\n{body}"


@pytest.mark.parametrize("number", ["99990", "10010", "5724", "100000", "999999999999999999999999", "abc"])
def test_known_unknown_and_wrong_numbers_look_the_same(stranger: Client, nursery: Nursery, number: str) -> None:
    known = str(tag_of(nursery.bench()).number)
    assert _seen(stranger, number) == _seen(stranger, known)
