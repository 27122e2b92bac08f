"""Printing tags. Included at /labels/."""

from django.urls import path

from labels.views import blank, choosing, kinds, pictures, printed, printers, printing, round_paper, stocks

app_name = "labels"

urlpatterns = [
    path("", choosing.waiting, name="waiting"),
    path("print/<int:number>/", choosing.one, name="print"),
    path("redetermined/<uuid:pk>/", choosing.redetermined, name="redetermined"),
    path("sheet/", printing.sheet, name="sheet"),
    path("sheet/pdf/", printing.pdf, name="pdf"),
    path("sheet/right/", printing.right, name="right"),
    path("printed/", printed.printings, name="printings"),
    path("printed/<uuid:pk>/", printed.printing, name="printing"),
    path("fading/", printed.worn, name="worn"),
    path("other-words/", printed.said_otherwise, name="other-words"),
    path("elsewhere/", printed.elsewhere, name="elsewhere"),
    path("round/<str:day>/", round_paper.round_paper, name="round-paper"),
    path("blank/", blank.blank, name="blank"),
    path("kinds/", kinds.kinds, name="kinds"),
    path("stocks/", stocks.stocks, name="stocks"),
    path("stocks/new/", stocks.stock_new, name="stock-new"),
    path("stocks/<int:pk>/", stocks.stock, name="stock"),
    path("stocks/<int:pk>/outlines/", stocks.outlines, name="outlines"),
    path("stocks/<int:pk>/rulers/", printers.rulers, name="rulers"),
    path("printers/", printers.printers, name="printers"),
    path("printers/new/", printers.printer_new, name="printer-new"),
    path("printers/<int:pk>/", printers.printer, name="printer"),
    path("stocks/<int:pk>/page/", pictures.page, name="picture"),
    path("stocks/<int:pk>/shown/<slug:kind>/", pictures.shown, name="shown"),
]
