"""Addresses of the gaps of a car."""

from django.urls import path

from asfound.desk.gaps import correcting, downloads, edge, page

urlpatterns = [
    path("", page.gaps, name="gaps"),
    path("gaps.csv", downloads.csv, name="gaps-csv"),
    path("gaps.json", downloads.json, name="gaps-json"),
    path("begin/", page.begin, name="begin-edge"),
    path("pictures/<path:edge>.svg", downloads.svg, name="edge-svg"),
    path("readings/<int:pk>/", correcting.correct, name="correct-gap"),
    path("edges/<path:edge>/", edge.edge, name="edge"),
]
