"""Sending a photo: taken just now, or chosen from the phone; and keeping it when something else needs another word."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from nursery.forms.base import ActForm
from nursery.models import Act
from nursery.photo_files import KeptPhoto, photo_keep, photo_kept
from nursery.pictures import PictureRefused, picture_read
from nursery.records.core import NewAct
from nursery.records.photos import photo_taken

NONE_SENT = "Take a photo, or choose one that you have."
TWO_SENT = "Two photos came. The one just taken is kept here: record it first, then send the other by itself."
DISK_REFUSED = (
    "The photo could not be written to the server's disk. Ask an owner to look at the disk, then send it again."
)
STILL_HERE = "A photo is here already: you need not send it again. If you choose another, that one takes its place."


class PhotoField(forms.FileField):
    """A file that is a photo; gives it as it is kept, on the disk already, or None. One of two ways to send it."""

    either = True

    def __init__(self, *, label: str, **attrs: str):
        widget = forms.FileInput(attrs={"accept": "image/*", **attrs})
        # An empty file gets a sentence of its own from the reader.
        super().__init__(label=label, required=False, widget=widget, allow_empty_file=True)

    def clean(self, data: Any, initial: Any = None) -> KeptPhoto | None:
        sent: UploadedFile | None = super().clean(data)
        if not sent:
            return None
        try:
            return photo_keep(picture_read(sent))
        except PictureRefused as refused:
            raise forms.ValidationError(str(refused)) from refused
        except OSError as error:
            raise forms.ValidationError(DISK_REFUSED) from error

    def bound_data(self, data: Any, initial: Any) -> Any:
        """The file as sent, whose name is shown when a form came twice."""
        return data


class PhotoForm(ActForm):
    """The photo and its caption.

    A browser forgets which file was chosen when a form comes back. So a photo that was good stays on the disk, and its
    name goes along in ``kept``.
    """

    camera = PhotoField(label="With the phone's camera", capture="environment")
    photo = PhotoField(label="Or a picture you have already")
    kept = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["note"].label = "Caption"
        self._tell_what_is_kept(self["kept"].value())

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        sent = [cleaned[name] for name in ("camera", "photo") if cleaned.get(name)]
        if sent:
            self._carry(sent[0])
        if len(sent) == 2:
            self.add_error("photo", TWO_SENT)
        if not sent and not self.errors.keys() & {"camera", "photo"} and self.kept_photo is None:
            self.add_error("photo", NONE_SENT)
        return cleaned

    def record(self, act: NewAct) -> Act:
        return photo_taken(act=act, thing=self.thing, photo=self.kept_photo)

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        measures = f"{act.photo.width} × {act.photo.height} pixels"
        return super().initial_from(act) | {"kept": act.photo.sha256, "photo": measures}

    def _carry(self, photo: KeptPhoto) -> None:
        """Let the form name this photo if it has to come back."""
        self.data = self.data.copy()
        self.data[self.add_prefix("kept")] = photo.sha256
        self._tell_what_is_kept(photo.sha256)

    def _tell_what_is_kept(self, sha256: str | None) -> None:
        self.kept_photo = photo_kept(sha256 or "")
        self["photo"].help_text = STILL_HERE if self.kept_photo else ""
