"""A day's round on A4, in walking order, with boxes to tick: for a house without signal, or hands too wet for a phone.

Drawn with ReportLab's page layout, which breaks tables between rows and repeats their heads. Knows nothing of the
round but the words that it is given.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import registerFontFamily
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph, Spacer, Table

from labels.codes import QUIET, grouped, matrix
from labels.draw import drawn_code, register_fonts
from labels.layout import CodeBox
from labels.metrics import FACES, printable

MARGIN = 12.0
"""Millimetres along every edge; room for a clip at the top comes with the heading."""

NUMBER, ANSWERS = 21.0, 64.0
"""Millimetres: widths of the columns beside the words."""

SIDE = 15.5
"""Millimetres of a code with its quiet zone: a row stays low, and the modules of version 3, the usual one, are 0.42 mm,
above the least that a soft print leaves readable."""

AIR = 1.0
"""Millimetres beside a code."""

LINE = HexColor("#8a8a80")
FOOT = "Female parent first. Type it in at the desk: Round, “Type in a printed round”."
NOTHING_DUE = "Nothing is due."
IF_TIME = "If there is time"
TAKE_CARE = "Take care"
DONE, LATER = "done", "later"


@dataclass(frozen=True, slots=True)
class PaperTask:
    """One row.

    Attributes:
        number: of the tag; None where a thing has none.
        name: (words, style) for each piece, styles as in ``metrics.FACES``.
        answers: the codes that may be ticked, as they are typed in later; none where it wants writing.
        caution: the fewest words, for the whole sentences stand at the end of the round once.
        code: what the code says; empty for no code.
    """

    number: int | None
    title: str
    due: str
    name: tuple[tuple[str, str], ...]
    sub: str
    reason: str
    answers: tuple[str, ...] = ()
    caution: str = ""
    code: str = ""


@dataclass(frozen=True, slots=True)
class PaperGroup:
    """The tasks at one place; ``optional`` ones come only if there is time."""

    place: str
    tasks: tuple[PaperTask, ...]
    optional: bool = False


@dataclass(frozen=True, slots=True)
class PaperRound:
    """A whole day: ``banners`` are closings and the like, which stand first; ``cautions`` stand last."""

    house: str
    title: str
    lead: str
    groups: tuple[PaperGroup, ...]
    banners: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class Code(Flowable):
    """A code with its quiet zone; one of a long address has smaller modules, so that the column holds it."""

    def __init__(self, text: str):
        super().__init__()
        drawn = matrix(text)
        self.box = CodeBox(0, 0, SIDE, SIDE / (drawn.size + 2 * QUIET), drawn)
        self.width = self.height = SIDE * mm

    def wrap(self, *_: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.addLiteral(drawn_code(self.box))


def print_round(paper: PaperRound) -> bytes:
    """The round as a PDF; an empty one says that nothing is due."""
    _register_faces()
    out = BytesIO()
    document = BaseDocTemplate(
        out,
        pagesize=A4,
        leftMargin=MARGIN * mm,
        rightMargin=MARGIN * mm,
        topMargin=(MARGIN + 8) * mm,
        bottomMargin=(MARGIN + 4) * mm,
        title=f"{paper.house}: {paper.title}",
    )
    frame = Frame(document.leftMargin, document.bottomMargin, document.width, document.height, 0, 0, 0, 0)
    document.addPageTemplates(PageTemplate(frames=[frame], onPage=lambda canvas, _: _page_marks(canvas, paper)))
    document.build(_story(paper, document.width), canvasmaker=_Counted)
    return out.getvalue()


class _Counted(Canvas):
    """Says on every page how many there are, which is known only at the end."""

    def __init__(self, *args: object, **kwargs: object):
        super().__init__(*args, **kwargs)
        self._pages: list[dict] = []

    def showPage(self) -> None:  # ReportLab's own name
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        for number, page in enumerate(self._pages, 1):
            self.__dict__.update(page)
            self.setFont(FACES["plain"], 8)
            self.drawRightString(A4[0] - MARGIN * mm, MARGIN * mm, f"Page {number} of {len(self._pages)}")
            super().showPage()
        super().save()


def _page_marks(canvas: Canvas, paper: PaperRound) -> None:
    canvas.setFont(FACES["clone"], 9)
    top = A4[1] - (MARGIN + 3) * mm
    canvas.drawString(MARGIN * mm, top, _shown(f"{paper.house} · {paper.title}", "clone"))
    canvas.setFont(FACES["plain"], 8)
    canvas.drawRightString(A4[0] - MARGIN * mm, top, "Walked by ______________________")
    canvas.drawString(MARGIN * mm, MARGIN * mm, FOOT)


def _story(paper: PaperRound, width: float) -> list[Flowable]:
    told: list[Flowable] = [_words(paper.title, _TITLE), _words(paper.lead, _SMALL), Spacer(0, 2 * mm)]
    told += [_words(banner, _BANNER) for banner in paper.banners]
    if not paper.groups:
        return [*told, _words(NOTHING_DUE, _PLAIN)]
    optional = False
    for group in paper.groups:
        if group.optional and not optional:
            told += [Spacer(0, 3 * mm), _words(IF_TIME, _WITH_NEXT)]
            optional = True
        told += [_table(group, width), Spacer(0, 3 * mm)]
    return told + _cautions(paper)


def _cautions(paper: PaperRound) -> list[Flowable]:
    told = [_words(caution, _SMALL) for caution in paper.cautions]
    return [_words(TAKE_CARE, _CARE), *told] if told else []


def _table(group: PaperGroup, width: float) -> Table:
    """One place; its name is the head, which comes again on the next page. A row is never broken."""
    with_codes = any(task.code for task in group.tasks)
    codes = [(SIDE + AIR) * mm] * with_codes
    told = width - (NUMBER + ANSWERS) * mm - sum(codes)
    columns = [NUMBER * mm, told, ANSWERS * mm, *codes]
    rows = [[_words(group.place, _PLACE), *[""] * (len(columns) - 1)]]
    rows += [_row(task, with_codes) for task in group.tasks]
    return Table(
        rows,
        colWidths=columns,
        repeatRows=1,
        splitByRow=True,
        style=[
            ("SPAN", (0, 0), (-1, 0)),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, LINE),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 2 * mm),
            ("TOPPADDING", (0, 1), (-1, -1), 1.6 * mm),
            ("BOTTOMPADDING", (0, 1), (-1, -1), 1.8 * mm),
        ],
    )


def _row(task: PaperTask, with_code: bool) -> list[Flowable | list[Flowable] | str]:
    number = _words(grouped(task.number), _NUMBER) if task.number is not None else ""
    row = [number, _told(task), _answers(task)]
    return [*row, Code(task.code) if task.code else ""] if with_code else row


def _told(task: PaperTask) -> list[Flowable]:
    head = f"<b>{_markup(task.title, 'clone')}</b> · {_markup(task.due)}"
    name = "".join(_styled(words, style) for words, style in task.name)
    sub = _markup(task.sub)
    told = [Paragraph(head, _PLAIN)]
    told += [Paragraph(" · ".join(filter(None, (name, sub))), _PLAIN)] if name or sub else []
    told += [_words(task.reason, _SMALL)]
    return [*told, _words(task.caution, _CARE)] if task.caution else told


def _answers(task: PaperTask) -> list[Flowable]:
    """Boxes with the words that are typed later, and room for another day and what else was seen."""
    codes = (*(task.answers or (DONE,)), LATER)
    boxes = "\u00a0\u00a0 ".join(f"☐\u00a0{_markup(code)}" for code in codes)
    line = "_" * 38
    return [Paragraph(boxes, _BOXES), Paragraph(line, _LINE)]


def _styled(words: str, style: str) -> str:
    tag = {"taxon": "i", "clone": "b"}.get(style)
    text = _markup(words, style)
    return f"<{tag}>{text}</{tag}>" if tag else text


def _markup(text: str, style: str = "plain") -> str:
    return escape(_shown(text, style))


def _shown(text: str, style: str) -> str:
    return printable(text, style)[0]


def _words(text: str, style: ParagraphStyle) -> Paragraph:
    return Paragraph(_markup(text), style)


def _register_faces() -> None:
    register_fonts()
    registerFontFamily(
        FACES["plain"], normal=FACES["plain"], bold=FACES["clone"], italic=FACES["taxon"], boldItalic=FACES["clone"]
    )


def _style(size: float, face: str = "plain", **more: object) -> ParagraphStyle:
    return ParagraphStyle(f"{face}-{size}", fontName=FACES[face], fontSize=size, leading=size * 1.25, **more)


_TITLE = _style(15, "clone")
_WITH_NEXT = _style(15, "clone", keepWithNext=1)
_PLACE = _style(11, "clone", spaceBefore=2)
_NUMBER = _style(11.5, "clone")
_PLAIN = _style(9.5)
_BOXES = _style(10.5)
_SMALL = _style(8)
_CARE = _style(8, "clone", spaceBefore=2, keepWithNext=1)
_LINE = _style(8, spaceBefore=5)
_BANNER = ParagraphStyle("banner", parent=_SMALL, borderWidth=0.6, borderColor=LINE, borderPadding=2, spaceBefore=3)
