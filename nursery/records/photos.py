from nursery.models import Act, LivingThing, Photo
from nursery.photo_files import KeptPhoto, full_path
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def photo_taken(*, act: NewAct, thing: LivingThing, photo: KeptPhoto) -> Act:
    """Remember a photo of a thing; ``photo`` comes from ``nursery.photo_files``, so its file is on the disk by now.

    The same file may be of several things. Undoing hides the photo; the file stays.
    """
    entry = Entry(act, "photo_taken", on=[thing], said={"photo": photo.sha256})
    if sent := entry.sent_before():
        return sent
    if not full_path(photo.sha256).is_file():
        raise Refused("photo_missing", "The file of this photo is not here any more. Send it again.", field="photo")
    detail = Photo(sha256=photo.sha256, width=photo.width, height=photo.height, bytes=photo.bytes)
    return entry.keep(thing, detail)
