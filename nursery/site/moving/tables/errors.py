class TableRefused(ValueError):
    """A table that cannot be read at all; the text is a sentence that says what to do."""


class CellWrong(ValueError):
    """What stands in one cell cannot be taken; the text is a sentence that says what to write instead."""


def quoted(text: str) -> str:
    """What a cell says, in quotation marks, short enough for a sentence.

    >>> quoted("lowii"), len(quoted("w" * 500))
    ('“lowii”', 42)
    """
    plain = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return f"“{plain if len(plain) <= 40 else plain[:39].rstrip() + '…'}”"
