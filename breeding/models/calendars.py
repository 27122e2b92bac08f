from django.db import models

from nursery.models import Person


class CalendarAddress(models.Model):
    """A secret address at which a calendar program reads what is due. Only its hash is kept; ended by deleting it."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="calendar_addresses")
    words = models.CharField(max_length=60)
    secret_hash = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.words
