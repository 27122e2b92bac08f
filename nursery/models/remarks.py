from django.db import models

from nursery.models.acts import Act


class Remark(models.Model):
    """Words that somebody said about a thing."""

    act = models.OneToOneField(Act, on_delete=models.PROTECT, primary_key=True, related_name="remark")
    words = models.TextField(max_length=4000)

    class Meta:
        constraints = [
            models.CheckConstraint(
                name="remark_has_words",
                condition=~models.Q(words=""),
                violation_error_message="Write what you want to remember.",
            )
        ]

    def __str__(self) -> str:
        return self.words[:60]
