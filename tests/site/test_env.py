"""Settings from the environment: read as meant, and nonsense refused by name and value."""

from pathlib import Path

import pytest

from nursery.site import env
from nursery.site.env import SETTINGS, BadSetting
from tests.site.processes import manage

REFUSALS = [
    ({"TEPAL_DEBUG": "perhaps"}, "Unexpected value TEPAL_DEBUG=perhaps; use yes or no."),
    ({"TEPAL_HTTPS": "1"}, "Unexpected value TEPAL_HTTPS=1; use yes or no."),
    ({"TEPAL_DEMO": "true"}, "Unexpected value TEPAL_DEMO=true; use yes or no."),
    ({"TEPAL_DATA": "data"}, "Unexpected value TEPAL_DATA=data; use a folder's whole path, such as /srv/tepal."),
    ({"TEPAL_PORT": "http"}, "Unexpected value TEPAL_PORT=http; use a port number from 0 to 65535."),
    ({"TEPAL_PORT": "65536"}, "Unexpected value TEPAL_PORT=65536; use a port number from 0 to 65535."),
    ({"TEPAL_PORT": "-1"}, "Unexpected value TEPAL_PORT=-1; use a port number from 0 to 65535."),
    ({"TEPAL_PORT": "8٠00"}, "Unexpected value TEPAL_PORT=8٠00; use a port number from 0 to 65535."),
    ({"TEPAL_PROXY": "proxy"}, "Unexpected value TEPAL_PROXY=proxy; use an IP address, such as 127.0.0.1."),
    (
        {"TEPAL_TIME_ZONE": "Europe/Atlantis"},
        "Unexpected value TEPAL_TIME_ZONE=Europe/Atlantis; "
        "use a time zone's name, such as Europe/Berlin or Asia/Kuching.",
    ),
    (
        {"TEPAL_TIME_ZONE": "/etc/localtime"},
        "Unexpected value TEPAL_TIME_ZONE=/etc/localtime; "
        "use a time zone's name, such as Europe/Berlin or Asia/Kuching.",
    ),
    (
        {"TEPAL_COLOUR": "green"},
        "Unknown setting TEPAL_COLOUR=green; use one of DATABASE_URL, TEPAL_DATA, TEPAL_DEBUG, TEPAL_DEMO, "
        "TEPAL_HOSTS, TEPAL_HTTPS, TEPAL_PORT, TEPAL_PROXY, TEPAL_TIME_ZONE.",
    ),
]

BAD_HOSTS = ["*", "http://tepal.example.org", "tepal.example.org:8000", "a b", "-a.example", "x/y", ",", "[zz]"]
BAD_DATABASES = [
    "mysql://u:hidden@h/x",
    "sqlite:///x",
    "hidden",
    "postgresql://u:hidden@h:port/x",
    "postgres://u:hidden@h/",
]


def test_it_works():
    values = env.read({"HOME": "/home/ida"})
    assert {name: values[name] for name in values if name not in {"TEPAL_DATA"}} == {
        "DATABASE_URL": None,
        "TEPAL_HOSTS": ["localhost", "127.0.0.1", "[::1]"],
        "TEPAL_HTTPS": False,
        "TEPAL_PROXY": "127.0.0.1",
        "TEPAL_PORT": 8000,
        "TEPAL_TIME_ZONE": "UTC",
        "TEPAL_DEMO": False,
        "TEPAL_DEBUG": False,
    }


@pytest.mark.parametrize(("environ", "sentence"), REFUSALS)
def test_nonsense_is_refused_by_name_and_value(environ, sentence):
    with pytest.raises(BadSetting) as refusal:
        env.read(environ)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize("text", BAD_HOSTS)
def test_what_is_no_host_name_is_refused(text):
    with pytest.raises(BadSetting) as refusal:
        env.read({"TEPAL_HOSTS": text})
    assert str(refusal.value) == (
        f"Unexpected value TEPAL_HOSTS={text}; "
        "use host names separated by commas, such as tepal.example.org, without http:// and port."
    )


@pytest.mark.parametrize("text", BAD_DATABASES)
def test_a_bad_database_address_is_refused_without_repeating_its_password(text):
    with pytest.raises(BadSetting) as refusal:
        env.read({"DATABASE_URL": text})
    assert str(refusal.value).startswith("Unexpected value DATABASE_URL=(not shown); use postgresql://NAME:PASSWORD@")
    assert "hidden" not in str(refusal.value)


def test_a_socket_folder_serves_as_the_databases_host():
    address = "postgresql://tepal@%2Frun%2Fpg:5433/records"
    read = env.read({"DATABASE_URL": address})["DATABASE_URL"]
    assert (read["HOST"], read["PORT"], read["NAME"], read["USER"]) == ("/run/pg", 5433, "records", "tepal")


def test_an_empty_variable_counts_as_unset():
    assert env.read({"TEPAL_PORT": "", "DATABASE_URL": ""})["TEPAL_PORT"] == 8000


def test_the_data_folder_follows_the_desktops_rule():
    """Source: XDG Base Directory Specification 0.8, XDG_DATA_HOME and its default $HOME/.local/share."""
    assert env.read({"XDG_DATA_HOME": "/data"})["TEPAL_DATA"] == Path("/data/tepal")
    assert env.read({})["TEPAL_DATA"] == Path("~/.local/share/tepal").expanduser()


def test_a_data_folder_may_begin_with_a_tilde():
    assert env.read({"TEPAL_DATA": "~/greenhouse"})["TEPAL_DATA"] == Path.home() / "greenhouse"


def test_settings_of_the_tests_and_of_the_owner_command_are_left_alone():
    assert env.read({"TEPAL_TEST_DATABASE": "sqlite", "TEPAL_OWNER_PASSWORD": "x"})["TEPAL_PORT"] == 8000


def test_every_row_has_a_help_sentence_and_a_default_that_reads():
    for row in SETTINGS:
        assert row.help.endswith("."), row.name
    assert set(env.read({})) == {row.name for row in SETTINGS}


@pytest.mark.parametrize("command", ["check", "serve", "nonsense"])
def test_a_command_ends_in_the_sentence_without_a_traceback(command, tmp_path):
    done = manage(tmp_path, command, TEPAL_HTTPS="maybe")
    assert (done.returncode, done.stdout, done.stderr) == (
        1,
        "",
        "Unexpected value TEPAL_HTTPS=maybe; use yes or no.\n",
    )
