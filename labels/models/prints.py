"""What was printed, and what a print leaves: the sheet that is begun, and what each kind goes on."""

from django.db import models
from django.db.models import Q

from labels.models.stocks import Printer, Stock
from nursery.models import Person, Tag

MOST_TO_A_PAGE = 1_200
"""Labels: no stock has more."""


class Printing(models.Model):
    """One print that somebody looked at and found right: when, by whom, on what, with which address in the codes.

    Its id is made with the page that asks, so that saying it twice is one print.
    """

    id = models.UUIDField(primary_key=True)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="+")
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, null=True, related_name="printings")
    printer = models.ForeignKey(Printer, on_delete=models.PROTECT, null=True, related_name="printings")
    address = models.CharField(max_length=120)
    copies = models.PositiveSmallIntegerField(default=1)
    buried = models.BooleanField(default=False, help_text="With one more to bury for each that grows in a pot.")

    class Meta:
        ordering = ["-at"]
        constraints = [
            models.CheckConstraint(
                name="printing_has_at_least_one_copy",
                condition=Q(copies__gte=1),
                violation_error_message="At least one copy was printed.",
            )
        ]

    def __str__(self) -> str:
        return f"print of {self.at:%Y-%m-%d}"


class PrintedTag(models.Model):
    """A tag that was on a print, with what its label said: kind, name and lines. Empty where that is not known."""

    printing = models.ForeignKey(Printing, on_delete=models.CASCADE, related_name="tags")
    tag = models.ForeignKey(Tag, on_delete=models.PROTECT, related_name="prints")
    said = models.TextField(default="", blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["printing", "tag"], name="tag_once_on_a_print")]

    def __str__(self) -> str:
        return str(self.tag_id)


class KindStock(models.Model):
    """What the tags of one kind of thing are printed on: as an owner chose, or else as they were printed last."""

    kind = models.CharField(primary_key=True, max_length=20, help_text="Code of the kind of thing; blank for blanks.")
    stock = models.ForeignKey(Stock, on_delete=models.PROTECT, related_name="kinds")
    chosen = models.BooleanField(default=False, help_text="By an owner, so that printing on another changes nothing.")

    def __str__(self) -> str:
        return f"{self.kind} on {self.stock_id}"


class LaidOut(models.Model):
    """Labels of a sheet that somebody laid out, on the way to the printer: nothing is printed yet, as far as is known.

    It tells others that the labels may be taken, and goes once somebody says how they came out, or in time.
    """

    look = models.UUIDField(help_text="The page on which they were laid out.")
    stock = models.ForeignKey(Stock, on_delete=models.CASCADE, related_name="+")
    printer = models.ForeignKey(Printer, on_delete=models.CASCADE, null=True, related_name="+")
    by = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="+")
    at = models.DateTimeField()
    first = models.PositiveSmallIntegerField(help_text="Label of the first sheet at which they begin.")
    labels = models.PositiveSmallIntegerField(help_text="How many.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["look", "stock"], name="stock_once_on_a_last_look"),
            models.CheckConstraint(
                name="laid_out_from_a_label_of_a_sheet",
                condition=Q(first__range=(1, MOST_TO_A_PAGE)) & Q(labels__gte=1),
                violation_error_message="Labels are laid out from one of a sheet on, and there is at least one.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.labels} on {self.stock_id} from {self.first}"

    @property
    def last(self) -> int:
        """The last label that it takes of the first sheet."""
        return min(self.first - 1 + self.labels, self.stock.places)

    @property
    def next_first(self) -> int:
        """The label at which the last sheet goes on; 1 where it is full."""
        return (self.first - 1 + self.labels) % self.stock.places + 1


class SheetLeft(models.Model):
    """The part-used sheet that lies by a printer: what the last print on such sheets left of it."""

    stock = models.ForeignKey(Stock, on_delete=models.CASCADE, related_name="sheets_left")
    printer = models.ForeignKey(Printer, on_delete=models.PROTECT, null=True, related_name="+")
    first = models.PositiveSmallIntegerField(help_text="Its first free label, counted along the rows.")
    printing = models.ForeignKey(Printing, on_delete=models.CASCADE, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["stock", "printer"], name="one_sheet_left_by_a_printer"),
            models.UniqueConstraint(
                fields=["stock"], condition=Q(printer=None), name="one_sheet_left_by_printers_not_entered"
            ),
            models.CheckConstraint(
                name="sheet_left_is_begun_and_not_full",
                condition=Q(first__range=(2, MOST_TO_A_PAGE)),
                violation_error_message="A sheet that is left has used labels and free ones.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.stock_id} from {self.first}"
