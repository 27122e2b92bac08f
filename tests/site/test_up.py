"""Whether the server can do its work."""

import pytest
from django.db import DatabaseError

from nursery.site.views import up


def test_it_works(stranger):
    answer = stranger.get("/up/")
    assert (answer.status_code, answer.content, answer.headers["Content-Type"]) == (200, b"ok", "text/plain")


def test_no_cache_may_answer_for_it(stranger):
    assert "no-store" in stranger.get("/up/").headers["Cache-Control"]


def test_it_takes_no_posts(stranger):
    assert stranger.post("/up/").status_code == 405


def test_it_does_not_say_ok_when_the_database_is_away(stranger, monkeypatch):
    class Away:
        def cursor(self):
            raise DatabaseError("gone")

    monkeypatch.setattr(up, "connection", Away())
    with pytest.raises(DatabaseError):
        stranger.get("/up/")
