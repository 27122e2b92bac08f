"""Cells that a spreadsheet would take for formulas: marked on the way out, and the mark taken off on the way in.

Source of the list: OWASP's page "CSV Injection", from memory.
"""

DANGEROUS = ("=", "+", "-", "@", "\t", "\r")


def neutral(text: str) -> str:
    """The text with an apostrophe before what a spreadsheet would compute; an apostrophe of its own is marked, too.

    >>> neutral("=1+1"), neutral("lowii"), neutral("'=x")
    ("'=1+1", 'lowii', "''=x")
    """
    return f"'{text}" if text.startswith(DANGEROUS) or _is_marked(text) else text


def as_written(cell: str) -> str:
    """What was meant by a cell, marked or not.

    >>> as_written("'=1+1"), as_written("'tis"), as_written("''=x")
    ('=1+1', "'tis", "'=x")
    """
    return cell[1:] if _is_marked(cell) else cell


def _is_marked(text: str) -> bool:
    return text.startswith("'") and text.lstrip("'").startswith(DANGEROUS)
