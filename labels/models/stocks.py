"""What labels are printed on, and with."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from decimal import Decimal

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models
from django.db.models import F, Q, Value

from labels.stock import Measures

HAIR = Decimal("0.01")
"""Millimetres by which labels may seem to stick out: three labels of 66.67 mm fill a page of 200."""


TEN = Value(Decimal(10))


def _mm(help_text: str, **options: object) -> models.DecimalField:
    return models.DecimalField(max_digits=6, decimal_places=2, help_text=help_text, **options)


def _extent(margin: str, count: str, label: str, gap: str) -> models.Expression:
    """From the page's edge to the far edge of the last label."""
    return F(margin) + F(count) * F(label) + (F(count) - Value(1)) * F(gap)


USUALLY_LASTS = {"thermal": 9, "ribbon": 60, "laminated": 120, "paper": 12}
"""Months. Heat straight onto the label fades in 6 to 12 months, resin ribbon on plastic lasts five years and more,
laminated tape longest: from memory, unchecked. Ten years for tape and one for paper are our choice; no source."""


@contextmanager
def _sentences_beside_fields() -> Iterator[None]:
    """Tell each broken constraint beside the field that is its error code."""
    try:
        yield
    except ValidationError as error:
        told = defaultdict(list)
        for name, broken in error.error_dict.items():
            for one in broken:
                told[one.code if name == NON_FIELD_ERRORS else name].append(one)
        raise ValidationError(dict(told)) from error


class Printer(models.Model):
    """A printer of the nursery: how fine it prints, and how far from where it should: measured on a page of rulers."""

    name = models.CharField(
        max_length=60,
        unique=True,
        help_text="By where it stands, for example: office, bench.",
        error_messages={"unique": "Another printer has this name already."},
    )
    dpi = models.PositiveSmallIntegerField(
        default=300, help_text="Often 203 or 300 for labels on a roll, 600 for sheets; its papers say."
    )
    across = _mm("How far to the right of where it should be, in mm; a minus is to the left.", default=0)
    down = _mm("How far below where it should be, in mm; a minus is above.", default=0)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                name="printer_is_off_by_20_mm_at_most",
                violation_error_code="across",
                condition=Q(across__range=(-20, 20), down__range=(-20, 20)),
                violation_error_message="A printer is off by 20 mm at most. Check the size of its paper.",
            ),
            models.CheckConstraint(
                name="printer_dpi_between_150_and_2400",
                violation_error_code="dpi",
                condition=Q(dpi__range=(150, 2400)),
                violation_error_message="A printer has 150 to 2,400 dots an inch.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def validate_constraints(self, exclude: Collection[str] | None = None) -> None:
        """As Django does, with each sentence under the field that its constraint names."""
        with _sentences_beside_fields():
            super().validate_constraints(exclude)


class Stocks(models.Manager):
    """Stocks with the printer that they were printed with last."""

    def get_queryset(self) -> models.QuerySet:
        return super().get_queryset().select_related("printer")


class Stock(models.Model):
    """A kind of label that the nursery has: a sheet of many, or a roll with one to a page. All in millimetres.

    The error code of each constraint is the field that its sentence is told beside.
    """

    class Kind(models.TextChoices):
        SHEET = "sheet", "sheet"
        ROLL = "roll", "roll"

    class Process(models.TextChoices):
        THERMAL = "thermal", "heat, straight onto the label"
        RIBBON = "ribbon", "heat, with a resin ribbon on plastic"
        LAMINATED = "laminated", "laminated tape"
        PAPER = "paper", "an office printer, on paper"

    class FreeEnd(models.TextChoices):
        FIRST = "first", "the left or the top end"
        LAST = "last", "the right or the bottom end"

    name = models.CharField(
        max_length=60,
        unique=True,
        help_text="By its measures, for example: sheet of 24.",
        error_messages={"unique": "Another stock has this name already."},
    )
    kind = models.CharField(max_length=5, choices=Kind)
    material = models.CharField(
        max_length=60,
        blank=True,
        default="",
        help_text="For example paper, or plastic printed by ribbon. Heat paper fades within a year.",
    )
    process = models.CharField(max_length=9, choices=Process, blank=True, default="")
    lasts_months = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        help_text="How many months the print can be read out there; empty takes what is usual for how it is printed.",
    )
    page_width = _mm("Width of the sheet; on a roll, of the backing, in mm.")
    page_height = _mm("Height of the sheet; on a roll, from one label to the next, in mm.")
    columns = models.PositiveSmallIntegerField(help_text="How many side by side.")
    rows = models.PositiveSmallIntegerField(help_text="How many one below the other; on a roll, 1.")
    label_width = _mm("Width of one label in mm.")
    label_height = _mm("Height of one label in mm.")
    left = _mm("From the left edge to the first label, in mm.", default=0)
    top = _mm("From the top edge to the first label, in mm.", default=0)
    gap_across = _mm("Between labels side by side, in mm.", default=0)
    gap_down = _mm("Between labels one below the other, in mm.", default=0)
    dpi = models.PositiveSmallIntegerField(
        default=300, help_text="What counts while no printer is chosen: often 203 for rolls, 600 for sheets."
    )
    free = _mm("Left white at one end of each label: a hole, or the part of a stake in the ground; in mm.", default=0)
    free_end = models.CharField(max_length=5, choices=FreeEnd, default=FreeEnd.FIRST)
    printer = models.ForeignKey(
        Printer,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="stocks",
        help_text="What it was printed with last, which the next print takes unless told otherwise.",
    )

    objects = Stocks()

    class Meta:
        ordering = ["-kind", "name"]
        constraints = [
            models.CheckConstraint(
                name="stock_kind_is_known",
                violation_error_code="kind",
                condition=Q(kind__in=["sheet", "roll"]),
                violation_error_message="Choose sheet or roll.",
            ),
            models.CheckConstraint(
                name="stock_label_measures_10_to_300_mm",
                violation_error_code="label_width",
                condition=Q(label_width__range=(10, 300), label_height__range=(10, 300)),
                violation_error_message="A label is between 10 and 300 mm wide and high.",
            ),
            models.CheckConstraint(
                name="stock_page_measures_10_to_1000_mm",
                violation_error_code="page_width",
                condition=Q(page_width__range=(10, 1000), page_height__range=(10, 1000)),
                violation_error_message="A page is between 10 and 1,000 mm wide and high.",
            ),
            models.CheckConstraint(
                name="stock_has_1_to_20_columns_and_1_to_60_rows",
                violation_error_code="columns",
                condition=Q(columns__range=(1, 20), rows__range=(1, 60)),
                violation_error_message="There are 1 to 20 labels across and 1 to 60 down.",
            ),
            models.CheckConstraint(
                name="stock_roll_has_one_row",
                violation_error_code="rows",
                condition=~Q(kind="roll") | Q(rows=1),
                violation_error_message="On a roll every row is a page of its own, so there is 1 label down.",
            ),
            models.CheckConstraint(
                name="stock_margins_and_gaps_not_negative",
                violation_error_code="left",
                condition=Q(left__gte=0, top__gte=0, gap_across__gte=0, gap_down__gte=0),
                violation_error_message="Margins and gaps are 0 or more.",
            ),
            models.CheckConstraint(
                name="stock_labels_fit_across_the_page",
                violation_error_code="columns",
                condition=Q(page_width__gte=_extent("left", "columns", "label_width", "gap_across") - Value(HAIR)),
                violation_error_message="The labels do not fit across the page; "
                "left margin, labels and gaps together are wider than it.",
            ),
            models.CheckConstraint(
                name="stock_labels_fit_down_the_page",
                violation_error_code="rows",
                condition=Q(page_height__gte=_extent("top", "rows", "label_height", "gap_down") - Value(HAIR)),
                violation_error_message="The labels do not fit down the page; "
                "top margin, labels and gaps together are higher than it.",
            ),
            models.CheckConstraint(
                name="stock_process_is_known",
                violation_error_code="process",
                condition=Q(process__in=["", "thermal", "ribbon", "laminated", "paper"]),
                violation_error_message="Choose how it is printed, or leave it open.",
            ),
            models.CheckConstraint(
                name="stock_lasts_between_1_and_600_months",
                violation_error_code="lasts_months",
                condition=Q(lasts_months=None) | Q(lasts_months__range=(1, 600)),
                violation_error_message="Print lasts between 1 and 600 months.",
            ),
            models.CheckConstraint(
                name="stock_dpi_between_150_and_2400",
                violation_error_code="dpi",
                condition=Q(dpi__range=(150, 2400)),
                violation_error_message="A printer has 150 to 2,400 dots an inch.",
            ),
            models.CheckConstraint(
                name="stock_free_end_is_known",
                violation_error_code="free_end",
                condition=Q(free_end__in=["first", "last"]),
                violation_error_message="Choose which end stays white.",
            ),
            models.CheckConstraint(
                name="stock_free_end_leaves_10_mm_to_print_on",
                violation_error_code="free",
                condition=Q(free__gte=0) & (Q(label_width__gte=F("free") + TEN) | Q(label_height__gte=F("free") + TEN)),
                violation_error_message="The white end is 0 or more, and leaves 10 mm of the label to print on.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def validate_constraints(self, exclude: Collection[str] | None = None) -> None:
        """As Django does, with each sentence under the field that its constraint names."""
        with _sentences_beside_fields():
            super().validate_constraints(exclude)

    @property
    def lasts(self) -> int | None:
        """Months that its print can be read: as told, or as usual for how it is printed; None where nobody knows."""
        return self.lasts_months or USUALLY_LASTS.get(self.process)

    @property
    def places(self) -> int:
        """Labels to a page."""
        return self.columns * self.rows

    @property
    def measures(self) -> Measures:
        """The numbers that the drawing works with, for the printer of the last print."""
        return self.measures_on(self.printer)

    def measures_on(self, printer: Printer | None) -> Measures:
        """The numbers that the drawing works with, in the printer's dots and corrected for what it is off by."""
        across, down = (float(printer.across), float(printer.down)) if printer else (0.0, 0.0)
        return Measures(
            page_width=float(self.page_width),
            page_height=float(self.page_height),
            columns=self.columns,
            rows=self.rows,
            label_width=float(self.label_width),
            label_height=float(self.label_height),
            left=float(self.left) - across,
            top=float(self.top) - down,
            gap_across=float(self.gap_across),
            gap_down=float(self.gap_down),
            dpi=printer.dpi if printer else self.dpi,
            free=float(self.free),
            free_last=self.free_end == self.FreeEnd.LAST,
        )
