"""Addresses of the polishing of a car."""

from django.urls import path

from asfound.desk.polish import correcting, downloads, page, panel

urlpatterns = [
    path("", page.polish, name="polish"),
    path("polish.csv", downloads.csv, name="polish-csv"),
    path("polish.json", downloads.json, name="polish-json"),
    path("wedges/<path:panel>.svg", downloads.svg, name="polish-svg"),
    path("readings/<int:pk>/", correcting.correct, name="correct-polish"),
    path("panels/<path:panel>/", panel.panel, name="polish-panel"),
]
