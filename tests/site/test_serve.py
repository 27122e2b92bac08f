"""`manage.py serve`: the production server, on this machine only unless the network is let in."""

import gzip
import re
import socket
import urllib.error
import urllib.request
from urllib.parse import urlsplit

import pytest
from django.core.management import CommandError, call_command

from nursery.site import serving as served
from tests.site.processes import manage, serving


def _get(url, **headers):
    request = urllib.request.Request(url, headers={name.replace("_", "-"): text for name, text in headers.items()})
    try:
        with urllib.request.urlopen(request, timeout=20) as answer:
            return answer.status, answer.headers, answer.read()
    except urllib.error.HTTPError as error:
        with error:
            return error.code, error.headers, error.read()


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("served"), "serve") as running:
        yield running


def test_it_works(server):
    status, _, body = _get(f"{server.address}up/")
    assert (status, body) == (200, b"ok")


def test_it_says_where_it_is_and_where_the_records_are(server):
    assert server.said[0] == f"Tepal runs at {server.address}"
    assert server.said[1] == "Only this machine can reach it; --lan opens it to phones on the same network."
    assert re.fullmatch(r"Records are kept in /.*/served\d+", server.said[2])
    today = r"Today is \w+day \d+ \w+ \d{4} \(UTC\); TEPAL_TIME_ZONE sets where days begin\."
    assert re.fullmatch(today, server.said[3])


def test_a_table_of_a_million_rows_comes_as_far_as_the_form_that_refuses_it_in_words():
    row = "lowii;hammer;House 1 / Bench 2;13 cm;spring 2024;from the friend who writes, labelled in pencil;unknown\n"
    assert len(row) * 1_000_000 < served.LARGEST_REQUEST


def test_what_is_larger_than_any_table_is_turned_away_unread(server):
    host, port = urlsplit(server.address).netloc.split(":")
    with socket.create_connection((host, int(port)), timeout=20) as connection:
        length = served.LARGEST_REQUEST + 1
        connection.sendall(f"POST /sign-in/ HTTP/1.1\r\nHost: {host}\r\nContent-Length: {length}\r\n\r\n".encode())
        assert b" 413 " in connection.recv(100)


def test_a_nursery_without_people_is_told_what_to_do(server):
    line = server.process.stdout.readline()
    assert line == "Nobody can sign in yet: stop it, run `manage.py owner`, and start it again.\n"


def test_static_files_are_ready_compressed_and_kept_by_browsers(server):
    _, _, page = _get(f"{server.address}no-such-page/")
    [name] = re.findall(rb"/static/css/base\.[0-9a-f]{12}\.css", page)
    status, headers, body = _get(f"{server.address}{name.decode().lstrip('/')}", Accept_Encoding="gzip")
    assert (status, headers["Content-Encoding"]) == (200, "gzip")
    assert "immutable" in headers["Cache-Control"]
    assert b"{" in gzip.decompress(body)


def test_errors_show_no_source(server):
    status, _, page = _get(f"{server.address}no-such-page/")
    assert status == 404
    assert b"urlpatterns" not in page
    assert b"DEBUG" not in page


def test_another_host_name_is_refused(server):
    assert _get(f"{server.address}up/", Host="tepal.example.org")[0] == 400


def test_it_listens_on_this_machine_only(server):
    address = served.lan_address()
    port = int(server.address.rstrip("/").rsplit(":", 1)[1])
    with socket.socket() as probe:
        probe.settimeout(5)
        assert address is None or probe.connect_ex((address, port)) != 0


def test_errors_with_their_source_are_never_served(tmp_path):
    done = manage(tmp_path, "serve", TEPAL_DEBUG="yes")
    assert (done.returncode, done.stderr) == (
        1,
        "CommandError: TEPAL_DEBUG=yes shows errors with their source, so it is not served. "
        "Unset it, or use runserver.\n",
    )


def test_a_port_in_use_is_named(started):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = manage(started, "serve", "--port", str(port))
    assert (done.returncode, done.stderr) == (
        1,
        f"CommandError: Port {port} is in use; stop what uses it, or choose another with --port.\n",
    )


@pytest.mark.parametrize("port", ["http", "-1", "65536"])
def test_a_port_that_is_none_is_refused(port):
    with pytest.raises(CommandError, match=f"{port} is no port; use a number from 0 to 65535"):
        call_command("serve", f"--port={port}")


def test_behind_a_proxy_its_word_on_https_is_believed(started):
    with serving(started, "serve", TEPAL_HTTPS="yes", TEPAL_HOSTS="tepal.example.org") as running:
        assert running.said[0] == (
            f"Tepal waits at {running.address} for the proxy that speaks https; people use https://tepal.example.org/."
        )
        asked = {"Host": "tepal.example.org", "X_Forwarded_Proto": "https", "X_Forwarded_For": "192.0.2.7"}
        status, headers, _ = _get(f"{running.address}no-such-page/", **asked)
    assert (status, headers["Strict-Transport-Security"]) == (404, "max-age=2592000")


def test_another_machines_word_on_https_is_not_believed(started):
    settings = {"TEPAL_HTTPS": "yes", "TEPAL_HOSTS": "tepal.example.org", "TEPAL_PROXY": "192.0.2.9"}
    with serving(started, "serve", **settings) as running:
        opener = urllib.request.build_opener(_NoRedirect)
        request = urllib.request.Request(
            f"{running.address}no-such-page/", headers={"Host": "tepal.example.org", "X-Forwarded-Proto": "https"}
        )
        with pytest.raises(urllib.error.HTTPError) as answer:
            opener.open(request, timeout=20)
        with answer.value as refused:
            assert (refused.code, refused.headers["Location"]) == (301, "https://tepal.example.org/no-such-page/")


class _NoRedirect(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *args, **kwargs):
        return None


def test_letting_the_network_in_says_what_plain_http_costs():
    said = []
    served.announce(served.Listening(host="0.0.0.0", port=8000, lan="192.0.2.7"), said.append)
    assert said[:5] == [
        "Tepal runs at http://127.0.0.1:8000/",
        "On a phone in the same network: http://192.0.2.7:8000/",
        "This is plain http: anybody on the same network can read passwords and records as they pass.",
        "Phones cannot work without signal over it, and people sign in again after 12 hours.",
        "Use it on a network you trust; README tells how to have https.",
    ]


def test_behind_a_proxy_on_another_machine_no_plain_address_is_offered(settings):
    said = []
    settings.HTTPS, settings.ALLOWED_HOSTS = True, ["tepal.example.org"]
    served.announce(served.Listening(host="0.0.0.0", port=8000, lan="192.0.2.7"), said.append)
    assert said[0] == (
        "Tepal waits at port 8000 of every address for the proxy that speaks https; "
        "people use https://tepal.example.org/."
    )
    assert [line for line in said if "http://" in line] == []


def test_letting_the_network_in_answers_to_the_phones_address(settings, monkeypatch):
    monkeypatch.setattr(served, "lan_address", lambda: "192.0.2.7")
    settings.ALLOWED_HOSTS = ["localhost"]
    assert served.open_to_lan() == "192.0.2.7"
    assert settings.ALLOWED_HOSTS[:2] == ["localhost", "192.0.2.7"]


@pytest.mark.parametrize(("lan", "host"), [(True, "0.0.0.0"), (False, "127.0.0.1")])
def test_it_listens_on_every_address_only_where_the_network_is_let_in(settings, monkeypatch, lan, host):
    monkeypatch.setattr(served, "lan_address", lambda: "192.0.2.7")
    settings.ALLOWED_HOSTS = ["localhost"]  # put back after the test, whatever is added
    server, listening = served.server_make(port=0, lan=lan)
    try:
        assert server.socket.getsockname() == (host, listening.port)
        assert (listening.host, listening.lan) == (host, "192.0.2.7" if lan else None)
    finally:
        server.task_dispatcher.shutdown()
        server.close()


def test_without_a_network_there_is_nothing_to_let_in(monkeypatch):
    monkeypatch.setattr(served, "lan_address", lambda: None)
    with pytest.raises(CommandError) as refused:
        served.open_to_lan()
    assert str(refused.value) == ("This machine has no address on a local network; connect it, or leave --lan out.")


@pytest.mark.parametrize(("found", "address"), [("192.0.2.7", "192.0.2.7"), ("127.0.0.1", None), ("0.0.0.0", None)])
def test_only_an_address_that_a_phone_can_reach_counts(monkeypatch, found, address):
    class Probe:
        def __enter__(self):
            return self

        def __exit__(self, *args):
            return None

        def connect(self, target):
            return None

        def getsockname(self):
            return found, 9

    monkeypatch.setattr(served.socket, "socket", lambda *args: Probe())
    assert served.lan_address() == address
