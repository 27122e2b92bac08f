from django.conf import settings
from django.db import models


class NeedsALook(models.Model):
    """Something a phone kept and sent that could not be recorded: held as it came until a person has looked.

    ``digest`` tells one sending from another, so the same item sent twice is held once. ``hands`` is who did it, as
    far as that is known; ``sender`` is whose phone it came from. It is no act: nothing follows from it.
    """

    class Why(models.TextChoices):
        UNTAKEN = "untaken", "could not be recorded"
        OTHER_VALUES = "other_values", "was recorded before with other values"

    digest = models.CharField(max_length=64, unique=True)
    act_id = models.UUIDField(null=True)
    sent = models.TextField()
    why = models.CharField(max_length=12, choices=Why)
    sentence = models.TextField()
    thing = models.ForeignKey("nursery.Thing", on_delete=models.PROTECT, null=True, related_name="+")
    hands = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    sender = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    received_at = models.DateTimeField()
    settled_at = models.DateTimeField(null=True)
    settled_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="needs_a_look_settled_by_somebody",
                condition=models.Q(settled_at__isnull=True, settled_by__isnull=True)
                | models.Q(settled_at__isnull=False, settled_by__isnull=False),
                violation_error_message="Somebody must say that nothing more is needed.",
            )
        ]

    def __str__(self) -> str:
        return self.sentence
