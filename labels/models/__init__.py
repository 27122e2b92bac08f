from labels.models.prints import MOST_TO_A_PAGE, KindStock, LaidOut, PrintedTag, Printing, SheetLeft
from labels.models.stocks import Printer, Stock, Stocks

__all__ = [
    "MOST_TO_A_PAGE",
    "KindStock",
    "LaidOut",
    "PrintedTag",
    "Printer",
    "Printing",
    "SheetLeft",
    "Stock",
    "Stocks",
]
