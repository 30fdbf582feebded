"""Addresses of the money of a car."""

from django.urls import path, re_path

from asfound.desk.money import document, downloads, entering, page, settings

urlpatterns = [
    path("", page.money, name="money"),
    path("add/", entering.add_document, name="add-document"),
    path("payments/add/", entering.add_payment, name="add-payment"),
    path("agree/", settings.agree, name="agree-rates"),
    path("documents/<int:pk>/", document.document, name="money-document"),
    path("documents/<int:pk>/withdraw/", document.withdraw, name="withdraw-document"),
    path("documents/<int:pk>/papers/<str:name>", document.paper, name="money-paper"),
    path("lines/<int:pk>/", document.correct, name="correct-money"),
    re_path(r"^of/(?P<subject>.*)$", document.back_to, name="money-of"),
    path("account.csv", downloads.csv, name="money-csv"),
    path("account.xlsx", downloads.xlsx, name="money-xlsx"),
    path("account.json", downloads.json, name="money-json"),
    path("statement.pdf", downloads.statement, name="money-statement"),
]
