from django.db import models


class Taxon(models.Model):
    """A species or a named hybrid. Reference data: corrected in place, not by acts."""

    class Rank(models.TextChoices):
        SPECIES = "species", "species"
        HYBRID = "hybrid", "named hybrid"

    class Appendix(models.TextChoices):
        I = "I", "Appendix I"  # noqa: E741 - the name the convention uses
        II = "II", "Appendix II"

    genus = models.CharField(max_length=40, default="Nepenthes")
    epithet = models.CharField(max_length=60)
    rank = models.CharField(max_length=8, choices=Rank, default=Rank.SPECIES)
    cites = models.CharField("CITES appendix", max_length=4, choices=Appendix, default=Appendix.II)
    note = models.CharField(max_length=500, default="", blank=True)

    class Meta:
        verbose_name_plural = "taxa"
        ordering = ["genus", "epithet"]
        constraints = [
            models.UniqueConstraint(
                fields=["genus", "epithet"],
                name="taxon_is_listed_once",
                violation_error_message="This taxon is already listed.",
            )
        ]

    def __str__(self) -> str:
        sign = "×" if self.rank == self.Rank.HYBRID else ""
        return f"{self.genus} {sign}{self.epithet}"
