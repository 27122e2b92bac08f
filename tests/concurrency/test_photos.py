"""Photos that two phones send at the same moment: nothing is half, nothing counts twice, nothing is lost."""

import io

import pytest

from nursery.models import Act, Person, Photo, Plant
from nursery.photo_files import full_path, photo_keep
from nursery.pictures import picture_read
from nursery.records.photos import photo_taken
from tests.concurrency.together import together
from tests.drawing import jpeg, kept
from tests.making import Nursery

TIMES = 3


@pytest.fixture(autouse=True)
def folders(settings, tmp_path) -> None:
    settings.MEDIA_ROOT, settings.SMALL_PHOTOS = tmp_path / "media", tmp_path / "small"


@pytest.mark.parametrize("turn", range(TIMES))
def test_the_same_photo_kept_at_once_is_one_whole_file(turn: int, nursery: Nursery) -> None:
    sent = jpeg(300 + turn, 200)
    photos = together(*[lambda: photo_keep(picture_read(io.BytesIO(sent))) for _ in range(4)])
    assert photos[0].sha256 == full_path(photos[0].sha256).stem
    assert photos == [photos[0]] * 4
    assert [path.stem for path in full_path(photos[0].sha256).parent.iterdir()] == [photos[0].sha256]
    assert full_path(photos[0].sha256).stat().st_size == photos[0].bytes


@pytest.mark.parametrize("_", range(TIMES))
def test_the_same_act_at_once_is_one_photo(_: int, nursery: Nursery) -> None:
    plant, photo, new = nursery.plant(), kept(), nursery.act()
    acts = together(
        *[lambda: photo_taken(act=new, thing=Plant.objects.get(pk=plant.pk), photo=photo) for _ in range(2)]
    )
    assert acts == [Act.objects.get(pk=new.id)] * 2
    assert Photo.objects.count() == 1


@pytest.mark.parametrize("_", range(TIMES))
def test_two_people_with_the_same_photo_of_one_plant_are_both_kept(_: int, nursery: Nursery) -> None:
    plant, photo = nursery.plant(), kept()
    other = Person.objects.create_user(name="Tom Reed", role="grower")
    news = [nursery.act(), nursery.act(by=other)]
    acts = together(
        *[lambda new=new: photo_taken(act=new, thing=Plant.objects.get(pk=plant.pk), photo=photo) for new in news]
    )
    assert [act.pk for act in acts] == [new.id for new in news]
    assert set(Photo.objects.values_list("act__by__name", "sha256")) == {
        ("Ida Fern", photo.sha256),
        ("Tom Reed", photo.sha256),
    }
