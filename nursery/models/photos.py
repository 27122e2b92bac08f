from django.db import models
from django.db.models.functions import Length
from django.db.models.lookups import Exact

from nursery.models.acts import Act


class Photo(models.Model):
    """A photo that somebody took of a thing. The file is named by its own SHA-256; the caption is the act's note."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="photo")
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField(help_text="In pixels.")
    height = models.PositiveIntegerField(help_text="In pixels.")
    bytes = models.PositiveIntegerField()

    class Meta:
        indexes = [models.Index(fields=["sha256"], name="photo_by_file")]
        constraints = [
            models.CheckConstraint(
                name="photo_is_named_by_its_content",
                condition=Exact(Length("sha256"), 64),
                violation_error_message="A photo is named by the 64 digits of its SHA-256. Send it again.",
            ),
            models.CheckConstraint(
                name="photo_has_a_size",
                condition=models.Q(width__gt=0, height__gt=0, bytes__gt=0),
                violation_error_message="A photo has a width, a height and content. Send it again.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.sha256[:12]}, {self.width} × {self.height}"
