"""A photo is an act on a thing; its file is on the disk before the act is, and stays when the act is undone."""

import pytest

from nursery.models import Act, Photo
from nursery.photo_files import KeptPhoto, full_path
from nursery.records.errors import Refused
from nursery.records.photos import photo_taken
from nursery.records.undo import undone
from tests.drawing import kept
from tests.making import Nursery

pytestmark = pytest.mark.django_db


def test_it_works(nursery: Nursery):
    spike, photo = nursery.spike(), kept(200, 100)
    act = nursery.record(photo_taken, thing=spike, photo=photo, note="The lowest flower.")
    row = Photo.objects.get(act=act)
    assert (row.sha256, row.width, row.height, row.bytes) == (photo.sha256, 200, 100, photo.bytes)
    assert (act.thing_id, act.note) == (spike.pk, "The lowest flower.")


def test_the_same_photo_of_two_things_is_two_acts_and_one_file(nursery: Nursery):
    one, other, photo = nursery.spike(), nursery.spike(), kept()
    for thing in (one, other, one):
        nursery.record(photo_taken, thing=thing, photo=photo)
    assert Photo.objects.filter(sha256=photo.sha256).count() == 3


def test_undone_the_file_stays(nursery: Nursery):
    photo = kept()
    act = nursery.record(photo_taken, thing=nursery.plant(), photo=photo)
    undone(act=nursery.act(), target=act)
    assert full_path(photo.sha256).is_file()
    assert Photo.objects.get(act=act).sha256 == photo.sha256


def test_a_photo_whose_file_is_missing_is_refused(nursery: Nursery):
    """No act may tell of a photo that nobody can see."""
    with pytest.raises(Refused) as refused:
        nursery.record(photo_taken, thing=nursery.plant(), photo=KeptPhoto("ab" * 32, 4, 3, 9))
    assert refused.value.sentence == "The file of this photo is not here any more. Send it again."
    assert not Act.objects.filter(kind="photo_taken").exists()


def test_a_photo_is_no_look(nursery: Nursery):
    """Taking a picture answers no question of the round."""
    spike = nursery.spike(days_ago=9)
    before = (spike.stage, spike.last_look, spike.last_seen)
    nursery.record(photo_taken, thing=spike, photo=kept())
    spike.refresh_from_db()
    assert (spike.stage, spike.last_look, spike.last_seen) == before


def test_a_photo_does_not_stand_in_the_way_of_undoing_the_birth(nursery: Nursery):
    plant = nursery.plant()
    nursery.record(photo_taken, thing=plant, photo=kept())
    undone(act=nursery.act(), target=plant.thing.born_by)
    plant.refresh_from_db()
    assert plant.cancelled
