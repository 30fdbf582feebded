"""Addresses of a car's findings."""

from django.urls import path

from asfound.desk.findings import changing, entering, finding, kinds, listing, report, report_pdf

urlpatterns = [
    path("", listing.findings, name="findings"),
    path("add/", entering.add, name="add-finding"),
    path("report/", report.of_car, name="condition"),
    path("report/pdf/", report_pdf.of_car_made, name="condition-made"),
    path("report.pdf", report_pdf.of_car, name="condition-pdf"),
    path("kinds/", kinds.kinds, name="finding-kinds"),
    path("kinds/<int:pk>/", kinds.withdraw, name="withdraw-finding-kind"),
    path("<int:pk>/", finding.finding, name="finding"),
    path("<int:pk>/correct/", changing.correct, name="correct-finding"),
    path("<int:pk>/withdraw/", changing.withdraw, name="withdraw-finding"),
    path("<int:pk>/opinion/", changing.give_opinion, name="finding-opinion"),
    path("<int:pk>/reopen/", changing.reopen, name="reopen-by-finding"),
    path("<int:pk>/photo/", changing.add_photo, name="finding-photo"),
    path("of/<path:subject>/report.pdf", report_pdf.of_subject, name="condition-of-pdf"),
    path("of/<path:subject>/", report.of_subject, name="finding-subject"),
]
