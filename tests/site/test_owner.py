"""`manage.py owner`: the first owner, from nothing."""

import sqlite3
from contextlib import closing

import pytest
from django.core.management import CommandError, call_command

from nursery.models import Person
from nursery.records.errors import Refused
from nursery.site.owners import owner_add, refuse_second
from tests.conftest import PASSWORD
from tests.migrated import migrated_copy
from tests.site.processes import manage


def _people(folder):
    with closing(sqlite3.connect(folder / "tepal.sqlite3")) as connection:
        return connection.execute("SELECT name, role, password FROM nursery_person ORDER BY id").fetchall()


def _all_that_a_start_makes(file):
    """The tables as they are declared, and the rows that come with them."""
    with closing(sqlite3.connect(file)) as connection:
        tables = connection.execute("SELECT name, sql FROM sqlite_master ORDER BY name").fetchall()
        shipped = ("breeding_expectation", "labels_stock", "django_content_type", "auth_permission")
        rows = [connection.execute(f"SELECT * FROM {name} ORDER BY id").fetchall() for name in shipped]
    return tables, rows


def test_it_works_from_nothing(tmp_path):
    done = manage(tmp_path, "owner", "--name", "Ida Fern", typed=f"{PASSWORD}\n")
    assert (done.returncode, done.stdout) == (
        0,
        f"Ida Fern can sign in as owner now. Records are kept in {tmp_path}\n",
    )
    [(name, role, password)] = _people(tmp_path)
    assert (name, role) == ("Ida Fern", "owner")
    assert password.startswith("argon2$argon2id$")
    as_migrated = migrated_copy(tmp_path / "as Django makes it" / "tepal.sqlite3")
    assert _all_that_a_start_makes(tmp_path / "tepal.sqlite3") == _all_that_a_start_makes(as_migrated)


def test_a_script_may_give_the_password_and_a_second_owner_is_added_only_when_asked_for(db, monkeypatch):
    monkeypatch.setenv("TEPAL_OWNER_PASSWORD", PASSWORD)
    call_command("owner", "--name", "Ida Fern")
    assert Person.objects.get().check_password(PASSWORD)
    with pytest.raises(CommandError) as refused:
        call_command("owner", "--name", "Tom Reed")
    assert str(refused.value) == (
        "Ida Fern is owner already and can add people under Office. "
        "To add an owner from here all the same, say --another."
    )
    call_command("owner", "--name", "Tom Reed", "--another")
    assert list(Person.objects.order_by("pk").values_list("name", "role")) == [
        ("Ida Fern", "owner"),
        ("Tom Reed", "owner"),
    ]


def test_a_script_without_a_name_is_told_how(started):
    done = manage(started, "owner")
    assert (done.returncode, done.stderr) == (1, "CommandError: Say who the owner is, with --name.\n")


@pytest.mark.parametrize("password", ["", "short", "1234567890", "password12", "Ida Fern 1"])
def test_a_weak_password_is_refused(db, password):
    with pytest.raises(Refused) as refused:
        owner_add(name="Ida Fern", password=password)
    assert refused.value.sentence.startswith(("This password is", "The password is"))
    assert not Person.objects.exists()


@pytest.mark.parametrize("name", ["", "   ", "x" * 61])
def test_a_name_that_is_none_is_refused(db, name):
    with pytest.raises(Refused) as refused:
        owner_add(name=name, password=PASSWORD)
    assert refused.value.sentence.endswith(".")


def test_a_name_that_somebody_has_is_refused(owner):
    with pytest.raises(Refused) as refused:
        owner_add(name="ida fern", password=PASSWORD)
    assert refused.value.sentence == "Somebody already has this name."


def test_an_owner_who_left_does_not_count(owner):
    owner.is_active = False
    owner.save()
    refuse_second(another=False)


def test_growers_do_not_count(grower):
    refuse_second(another=False)
