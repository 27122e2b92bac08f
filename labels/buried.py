"""The label that is buried in a pot, for the day on which the other one is lost. Pure.

It is read when everything else failed, through wet moss: number, code and name alone, as large as they fit. The day and
the rest are on the label above, and in the books under the number (our choice; no source).
"""

from dataclasses import replace

from labels.layout import LabelText, Leads

IN_POTS = frozenset({"plant", "seedpot"})
"""Codes of the kinds that grow in a pot of their own."""


def to_bury(text: LabelText) -> LabelText:
    """The label to bury that goes with this one."""
    return replace(text, kind_words="", lines=(), leads=Leads.NUMBER)


def texts_with(text: LabelText, kind: str, *, copies: int, buried: bool) -> list[LabelText]:
    """All labels of one tag, one behind the other: the copies, and where asked for and in a pot the one to bury."""
    return [text] * copies + [to_bury(text)] * labels_to_bury(kind, buried=buried)


def labels_to_bury(kind: str, *, buried: bool) -> int:
    return int(buried and kind in IN_POTS)
