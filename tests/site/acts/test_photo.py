"""Sending a photo of a thing: taken or chosen, refused in words, kept while something else needs another word."""

import io
import re
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from nursery.links import act_url, thing_url
from nursery.models import Act, Photo
from nursery.photo_files import full_path
from nursery.pictures import picture_read
from nursery.records.photos import photo_taken
from tests.drawing import jpeg, kept, png_of
from tests.making import Nursery
from tests.site.things.samples import KINDS

STILL_HERE = "A photo is here already"


@pytest.fixture
def spike(nursery: Nursery):
    return nursery.spike(days_ago=30)


@pytest.fixture
def url(spike) -> str:
    return act_url(spike, "photo")


def _file(content: bytes, name: str = "image.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content, content_type="image/jpeg")


def _carried(page: str) -> str:
    return re.search(r'name="kept"(?: value="([^"]*)")?', page)[1] or ""


@pytest.mark.parametrize("field", ["camera", "photo"])
def test_it_works(url: str, spike, as_grower: Client, grower, field: str):
    answer = as_grower.post(url, {field: _file(jpeg(900, 600)), "note": "Buds from the side.", "act_id": uuid.uuid4()})
    assert (answer.status_code, answer.headers["Location"]) == (302, thing_url(spike))
    photo = Photo.objects.get()
    assert (photo.act.thing_id, photo.act.by, photo.act.note) == (spike.pk, grower, "Buds from the side.")
    assert (photo.width, photo.height) == (900, 600)
    assert full_path(photo.sha256).read_bytes() == picture_read(io.BytesIO(jpeg(900, 600))).full
    page = as_grower.get(thing_url(spike)).content.decode()
    assert f'href="/photos/{photo.sha256}.jpg"' in page and f'src="/photos/small/{photo.sha256}.jpg"' in page
    assert "Buds from the side." in page
    assert "photo taken (" in page and f"/acts/{photo.act_id}/undo/" in page


@pytest.mark.parametrize("slug", KINDS)
def test_every_kind_of_thing_can_have_one_and_says_where(nursery: Nursery, as_grower: Client, as_viewer, slug: str):
    thing = KINDS[slug](nursery)
    url = act_url(thing, "photo")
    assert f'<a href="{url}">Take a photo</a>' in as_grower.get(thing_url(thing)).content.decode()
    assert url not in as_viewer.get(thing_url(thing)).content.decode()
    assert as_grower.post(url, {"photo": _file(jpeg()), "act_id": uuid.uuid4()}).status_code == 302
    photo = Photo.objects.get(act__thing_id=thing.pk)
    for client in (as_grower, as_viewer):
        assert f"/photos/small/{photo.sha256}.jpg" in client.get(thing_url(thing)).content.decode()


def test_the_form_asks_the_phone_for_its_camera_and_for_its_photos(url: str, as_grower: Client):
    """Attributes of the input. Source: W3C HTML Media Capture, 3 (capture, accept)."""
    page = as_grower.get(url).content.decode()
    assert 'enctype="multipart/form-data"' in page
    camera, photo = re.findall(r'<input type="file"[^>]*>', page)
    assert 'name="camera"' in camera and 'accept="image/*"' in camera and 'capture="environment"' in camera
    assert 'name="photo"' in photo and 'accept="image/*"' in photo and "capture" not in photo
    assert STILL_HERE not in page


def test_a_viewer_and_a_stranger_send_nothing(url: str, as_viewer: Client, stranger: Client):
    before = set(full_path("ab" * 32).parent.glob("*"))
    assert as_viewer.post(url, {"photo": _file(jpeg(77, 55))}).status_code == 403
    assert stranger.post(url, {"photo": _file(jpeg(77, 55))}).status_code == 401
    assert set(full_path("ab" * 32).parent.glob("*")) == before, "and nothing of theirs stays on the disk"
    assert not Photo.objects.exists()


def test_signed_out_the_caption_is_held_and_the_photo_named(url: str, stranger: Client, grower):
    answer = stranger.post(url, {"photo": _file(jpeg(), "leaf.jpg"), "note": "wet thumb"})
    page = answer.content.decode()
    assert "wet thumb" in page and "leaf.jpg" in page
    held = dict(re.findall(r'name="(held[^"]*)" value="([^"]*)"', page))
    with_password = held | {"name": grower.name, "password": "wet moss, warm night", "next": url}
    page = stranger.post("/sign-in/", with_password).content.decode()
    assert "Photo (choose it again)" in page and "leaf.jpg" in page


REFUSED = {
    "empty": (b"", "This file is empty. Take the photo again, or choose another."),
    "text": (b"not a photo, whatever its name says\n" * 9, "This file is no photo that Tepal can read."),
    "cut short": (jpeg(900, 600)[:3000], "This photo is damaged, or only a part of it arrived."),
    "bomb": (png_of(10_000, 10_000), "This picture has more than 60 million pixels."),
    "too large": (jpeg() + bytes(20_000_001), "This file is larger than 20 MB."),
}


@pytest.mark.parametrize(("content", "sentence"), REFUSED.values(), ids=REFUSED)
def test_a_photo_that_is_refused_costs_nothing_typed(url: str, as_grower: Client, content: bytes, sentence: str):
    sent = {"photo": _file(content), "note": "Lowest flower.", "day_said": "yesterday", "act_id": uuid.uuid4()}
    answer = as_grower.post(url, sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page.replace("&#x27;", "'")
    assert ">\nLowest flower.</textarea>" in page
    assert re.search(r'value="yesterday"[^>]* checked', page)
    assert f'name="act_id" value="{sent["act_id"]}"' in page
    assert not Photo.objects.exists()


def test_without_a_photo_it_asks_for_one(url: str, as_grower: Client):
    answer = as_grower.post(url, {"note": "Lowest flower."})
    assert answer.status_code == 422
    assert "Take a photo, or choose one that you have." in answer.content.decode()


def test_a_good_photo_need_not_be_sent_again_when_the_day_is_wrong(url: str, as_grower: Client):
    sent = {"day_said": "on", "day_on": "the ides of March", "note": "Lowest flower.", "act_id": uuid.uuid4()}
    page = as_grower.post(url, sent | {"camera": _file(jpeg(640, 480))}).content.decode()
    assert STILL_HERE in page
    assert not Photo.objects.exists()
    again = as_grower.post(url, sent | {"day_on": "2026-03-15", "kept": _carried(page)})
    assert again.status_code == 302
    photo = Photo.objects.get()
    assert (photo.width, photo.height, photo.act.day_first.isoformat()) == (640, 480, "2026-03-15")


def test_another_photo_takes_the_place_of_the_kept_one(url: str, as_grower: Client):
    as_grower.post(url, {"kept": kept().sha256, "photo": _file(jpeg(333, 222)), "act_id": uuid.uuid4()})
    assert Photo.objects.get().width == 333


def test_a_bad_photo_beside_a_kept_one_is_told_and_the_kept_one_stays(url: str, as_grower: Client):
    name = kept().sha256
    answer = as_grower.post(url, {"kept": name, "photo": _file(b"text"), "act_id": uuid.uuid4()})
    assert answer.status_code == 422
    assert _carried(answer.content.decode()) == name


def test_of_two_photos_the_one_just_taken_is_kept(url: str, as_grower: Client):
    """It may be nowhere else; the chosen one is still on the phone."""
    two = {"camera": _file(jpeg(640, 480)), "photo": _file(jpeg(333, 222)), "act_id": uuid.uuid4()}
    page = as_grower.post(url, two).content.decode()
    assert "Two photos came. The one just taken is kept here" in page
    as_grower.post(url, {"kept": _carried(page), "act_id": two["act_id"]})
    assert Photo.objects.get().width == 640


@pytest.mark.parametrize("name", ["ab" * 32, "../../secret_key", "x", "\x00"])
def test_a_kept_name_that_is_none_is_no_photo(url: str, as_grower: Client, name: str):
    answer = as_grower.post(url, {"kept": name, "act_id": uuid.uuid4()})
    assert answer.status_code == 422
    assert STILL_HERE not in answer.content.decode()


def test_a_disk_that_refuses_is_told(url: str, as_grower: Client, monkeypatch):
    def full(picture):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("nursery.forms.photos.photo_keep", full)
    answer = as_grower.post(url, {"photo": _file(jpeg()), "note": "Lowest flower."})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "could not be written to the server&#x27;s disk" in page and "Lowest flower." in page


def test_tapped_twice_it_is_one_photo(url: str, as_grower: Client):
    act_id = uuid.uuid4()
    for _ in range(2):
        assert as_grower.post(url, {"camera": _file(jpeg()), "act_id": act_id}).status_code == 302
    assert Photo.objects.count() == 1


def test_one_id_with_two_photos_shows_both_and_loses_neither(url: str, as_grower: Client):
    act_id = uuid.uuid4()
    as_grower.post(url, {"photo": _file(jpeg(640, 480)), "act_id": act_id})
    answer = as_grower.post(url, {"photo": _file(jpeg(333, 222), "second.jpg"), "act_id": act_id})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "640 × 480 pixels" in page and "second.jpg" in page
    as_grower.post(url, {"kept": _carried(page), "act_id": uuid.uuid4()})
    assert sorted(Photo.objects.values_list("width", flat=True)) == [333, 640]


def test_the_caption_can_be_corrected_and_the_photo_stays(url: str, spike, as_grower: Client, nursery: Nursery):
    act = nursery.record(photo_taken, thing=spike, photo=kept(), note="Femal")
    page = as_grower.get(f"/acts/{act.pk}/correct/").content.decode()
    assert STILL_HERE in page and "Femal" in page
    as_grower.post(f"/acts/{act.pk}/correct/", {"kept": _carried(page), "note": "Female", "act_id": uuid.uuid4()})
    new = Act.objects.get(replaces=act)
    assert (new.note, new.photo.sha256) == ("Female", act.photo.sha256)


def test_after_it_the_way_goes_on_to_where_it_came_from(url: str, as_grower: Client):
    coming_from = f"{url}?next=/round/2026-03-01/"
    assert 'href="/round/2026-03-01/">Leave it' in as_grower.get(coming_from).content.decode()
    answer = as_grower.post(coming_from, {"photo": _file(jpeg()), "act_id": uuid.uuid4()})
    assert answer.headers["Location"] == "/round/2026-03-01/"
