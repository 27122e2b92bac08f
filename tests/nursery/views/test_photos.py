"""Files of photos go to people who are signed in, under the only names there are."""

import hashlib
import uuid
from pathlib import Path
from urllib.parse import quote

import pytest
from django.test import Client

from nursery.models import Act
from nursery.photo_files import full_path, small_path
from nursery.records.photos import photo_taken
from nursery.records.undo import undone
from tests.drawing import kept
from tests.making import Nursery


@pytest.fixture
def act(nursery: Nursery, settings, tmp_path: Path) -> Act:
    settings.MEDIA_ROOT, settings.SMALL_PHOTOS = tmp_path / "media", tmp_path / "small"
    return nursery.record(photo_taken, thing=nursery.spike(), photo=kept(600, 400))


def _addresses(act: Act) -> list[str]:
    return [f"/photos/{act.photo.sha256}.jpg", f"/photos/small/{act.photo.sha256}.jpg"]


@pytest.mark.parametrize("who", ["as_owner", "as_grower", "as_viewer"])
def test_everybody_with_a_name_sees_it(act: Act, who: str, request):
    client = request.getfixturevalue(who)
    large, small = (client.get(address) for address in _addresses(act))
    assert hashlib.sha256(large.content).hexdigest() == act.photo.sha256
    assert small.content == small_path(act.photo.sha256).read_bytes()


def test_its_headers_keep_it_a_picture_and_private(act: Act, as_viewer: Client):
    for address in _addresses(act):
        answer = as_viewer.get(address)
        assert answer.headers["Content-Type"] == "image/jpeg"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cache-Control"] == "private, max-age=604800"
        assert "Cookie" in answer.headers["Vary"]
        assert answer.headers["Content-Length"] == str(len(answer.content))


def test_a_browser_that_has_it_is_told_so(act: Act, as_viewer: Client):
    [address, _] = _addresses(act)
    first = as_viewer.get(address)
    again = as_viewer.get(address, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_a_stranger_is_asked_to_sign_in(act: Act, stranger: Client):
    for address in _addresses(act):
        answer = stranger.get(address, headers={"If-None-Match": f'"{act.photo.sha256}"'})
        assert (answer.status_code, answer.headers["Location"]) == (302, f"/sign-in/?next={quote(address, safe='')}")


def test_a_stranger_cannot_tell_which_photos_there_are(act: Act, stranger: Client):
    for address in (f"/photos/{'ab' * 32}.jpg", *_addresses(act)):
        assert stranger.get(address).status_code == 302


def test_somebody_who_left_sees_nothing(act: Act, as_viewer: Client, viewer):
    viewer.is_active = False
    viewer.save()
    assert as_viewer.get(_addresses(act)[0]).status_code == 302


def test_it_only_answers_get(act: Act, as_owner: Client):
    assert as_owner.post(_addresses(act)[0]).status_code == 405


def test_undone_it_is_hidden(act: Act, as_owner: Client, nursery: Nursery):
    undone(act=nursery.act(), target=act)
    assert [as_owner.get(address).status_code for address in _addresses(act)] == [404, 404]
    assert full_path(act.photo.sha256).is_file()


def test_it_is_shown_as_long_as_one_act_tells_of_it(act: Act, as_owner: Client, nursery: Nursery):
    nursery.record(photo_taken, thing=nursery.plant(), photo=kept(600, 400))
    undone(act=nursery.act(), target=act)
    assert as_owner.get(_addresses(act)[0]).status_code == 200


def test_a_photo_that_nobody_recorded_is_not_shown(act: Act, as_owner: Client):
    waiting = kept(500, 300)
    assert as_owner.get(f"/photos/{waiting.sha256}.jpg").status_code == 404


def test_a_small_one_is_made_again_after_a_restore(act: Act, as_viewer: Client):
    small_path(act.photo.sha256).unlink()
    assert as_viewer.get(_addresses(act)[1]).content[:3] == b"\xff\xd8\xff"


def test_a_missing_file_is_not_found(act: Act, as_viewer: Client):
    full_path(act.photo.sha256).unlink()
    small_path(act.photo.sha256).unlink()
    assert [as_viewer.get(address).status_code for address in _addresses(act)] == [404, 404]


@pytest.mark.parametrize(
    "path",
    [
        "../secret_key",
        "..%2fsecret_key",
        "%2e%2e/%2e%2e/secret_key",
        f"{'ab' * 32}",
        f"{'AB' * 32}.jpg",
        f"{'ab' * 32}.jpg%00.txt",
        f"{'ab' * 32}/../../tepal.sqlite3",
        f"{'ab' * 31}/..jpg",
        "%00.jpg",
        f"{'٣' * 64}.jpg",
    ],
    ids=range(10),
)
@pytest.mark.parametrize("folder", ["/photos/", "/photos/small/", "/media/photos/", "/media/"])
def test_no_other_address_leads_to_a_file(act: Act, as_owner: Client, folder: str, path: str):
    assert as_owner.get(folder + path).status_code == 404


def test_the_media_folder_itself_is_not_served(act: Act, as_owner: Client):
    assert as_owner.get(f"/media/photos/{act.photo.sha256}.jpg").status_code == 404
    assert as_owner.get("/media/photos/").status_code == 404


def test_undoing_is_found_by_its_own_id(act: Act, as_owner: Client):
    answer = as_owner.post(f"/acts/{act.pk}/undo/", {"act_id": uuid.uuid4()}, follow=True)
    assert "/photos/" not in answer.content.decode()
