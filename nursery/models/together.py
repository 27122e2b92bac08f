from django.db import models


class Together(models.Model):
    """One of several acts that one tap recorded: ``submit`` is the UUID of the tap, the same for all of them."""

    act = models.OneToOneField("nursery.Act", on_delete=models.PROTECT, related_name="together")
    submit = models.UUIDField(db_index=True)

    def __str__(self) -> str:
        return f"{self.act_id} of {self.submit}"
