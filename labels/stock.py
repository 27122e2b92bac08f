"""The measures of a stock of labels, as the drawing needs them. Pure; millimetres throughout."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measures:
    """A sheet of labels, or a roll, whose every label is a page of its own.

    Attributes:
        page_width, page_height: the sheet; on a roll, the backing from one label to the next.
        columns, rows: labels across and down.
        label_width, label_height: one label.
        left, top: from the page's edge to the first label.
        gap_across, gap_down: between neighbours.
        dpi: dots an inch of the printer; the code is drawn in whole dots.
        free: white at one end of each label's longer side, for a hole or the part in the ground.
        free_last: whether that end is the right or bottom one; else the left or top one.
    """

    page_width: float
    page_height: float
    columns: int
    rows: int
    label_width: float
    label_height: float
    left: float = 0
    top: float = 0
    gap_across: float = 0
    gap_down: float = 0
    dpi: int = 300
    free: float = 0
    free_last: bool = False

    @property
    def per_page(self) -> int:
        return self.columns * self.rows

    def corner(self, position: int) -> tuple[float, float]:
        """Lower left corner of a label, measured from the lower left of the page.

        Args:
            position: 0 is the first label of the page; along the rows, then down.
        """
        row, column = divmod(position, self.columns)
        x = self.left + column * (self.label_width + self.gap_across)
        below_top = self.top + row * (self.label_height + self.gap_down) + self.label_height
        return x, self.page_height - below_top

    @property
    def foot(self) -> float:
        """White below the last row."""
        return self.page_height - self.top - self.rows * self.label_height - (self.rows - 1) * self.gap_down
