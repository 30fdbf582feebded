"""Addresses of the evidence of a car."""

from django.urls import path

from asfound.desk.evidence import adding, downloads, marks, miles, page, reading, standing, subject

urlpatterns = [
    path("", page.evidence, name="evidence"),
    path("ledger/", page.ledger, name="evidence-ledger"),
    path("add/", adding.add, name="add-evidence"),
    path("numbers/", marks.numbers, name="numbers"),
    path("numbers/add/", reading.add_number, name="add-number"),
    path("odometer/add/", reading.add_miles, name="add-miles"),
    path("odometer/", miles.odometer, name="odometer"),
    path("row/<slug:table>/<slug:mark>/", standing.row, name="evidence-row"),
    path("of/<path:subject>/", subject.subject, name="evidence-of"),
    path("claims/<path:subject>/", subject.claims, name="claims-of"),
    path("evidence.json", downloads.evidence, name="evidence-json"),
    path("numbers.json", downloads.numbers, name="numbers-json"),
    path("odometer.json", downloads.odometer, name="odometer-json"),
    path("ledger.json", downloads.ledger, name="ledger-json"),
]
