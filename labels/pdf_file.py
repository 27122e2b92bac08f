"""A PDF that is written page by page, so that it takes as much memory with a thousand pages as with one."""

import zlib
from array import array
from typing import BinaryIO

from reportlab.pdfbase.pdfdoc import (
    BasicFonts,
    PDFDictionary,
    PDFDocument,
    PDFIndirectObject,
    PDFName,
    PDFTrailer,
)

HEAD = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"
"""The second line tells whoever passes the file on that it is no text (ISO 32000-1, 7.5.2)."""


class PdfFile(PDFDocument):
    """A PDF on its way into a file.

    ReportLab holds all pages until a document is saved, some 6 KiB for each label of a roll. Here a page is in the
    file once it is told, and all that stays of it is where its two objects begin. What a document has but once is
    ReportLab's own, faces above all; pages take them from the page tree (ISO 32000-1, 7.7.3.4).
    """

    def __init__(self, out: BinaryIO, title: str):
        """
        Args:
            out: an empty file, which stays open.
        """
        super().__init__(compression=1)
        self.setTitle(title)
        self.Catalog.Outlines = None
        self.Catalog.ViewerPreferences = PDFDictionary({"PrintScaling": PDFName("None")})
        self.Catalog.Pages = PDFDictionary({"Type": PDFName("Pages")})
        self._tree = self.Reference(self.Catalog.Pages).format(self)
        self._out = out
        self._starts, self._pages = array("Q", [0]), array("Q")
        out.write(HEAD)

    def page(self, width: float, height: float, drawn: str) -> None:
        """Write a page: its sides in points, and the operators that draw it."""
        content, page = self.objectcounter + 1, self.objectcounter + 2
        self.objectcounter = page
        packed = zlib.compress(drawn.encode("ascii"))
        stream = b"<< /Filter /FlateDecode /Length %d >>\nstream\n%b\nendstream" % (len(packed), packed)
        self._put(content, b"%d 0 obj\n%b\nendobj\n" % (content, stream))
        sides = f"{width:.4f} {height:.4f}".encode()
        told = b"<< /Type /Page /Parent %b /MediaBox [0 0 %b] /Contents %d 0 R >>" % (self._tree, sides, content)
        self._put(page, b"%d 0 obj\n%b\nendobj\n" % (page, told))
        self._pages.append(page)

    def close(self) -> None:
        """Write what the pages share, and where everything is."""
        for face in self.delayedFonts:
            face.addObjects(self)
        self.info.digest(self.signature)
        root, info = self.Reference(self.Catalog), self.Reference(self.info)
        tree = self.Catalog.Pages
        tree["Kids"] = b"[%b]" % b" ".join([b"%d 0 R" % page for page in self._pages])
        tree["Count"] = len(self._pages)
        tree["Resources"] = PDFDictionary({"Font": self.idToObject[BasicFonts]})
        self._put_shared()
        start, size = self._out.tell(), len(self._starts)
        self._out.write(b"xref\n0 %d\n0000000000 65535 f \n" % size)
        self._out.writelines(b"%010d 00000 n \n" % offset for offset in self._starts[1:])
        self._out.write(PDFTrailer(start, Size=size, Root=root, Info=info, ID=self.ID()).format(self))

    def _put_shared(self) -> None:
        """All objects but those of pages; writing one may make others known."""
        number = 0
        while number < self.objectcounter:
            number += 1
            if name := self.numberToId.get(number):
                self._put(number, PDFIndirectObject(name, self.idToObject[name]).format(self))

    def _put(self, number: int, written: bytes) -> None:
        self._starts.extend([0] * (number + 1 - len(self._starts)))
        self._starts[number] = self._out.tell()
        self._out.write(written)
