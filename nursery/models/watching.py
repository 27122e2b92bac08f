from django.db import models

from nursery.models.acts import Act


class Later(models.Model):
    """Details of a postponement: ask about this thing again on that day."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="later")
    until = models.DateField()

    def __str__(self) -> str:
        return f"until {self.until}"
