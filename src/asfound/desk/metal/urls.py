"""Addresses of a car's sheet metal."""

from django.urls import path

from asfound.desk.metal import correcting, downloads, views

urlpatterns = [
    path("", views.overview, name="metal"),
    path("metal.json", downloads.json, name="metal-json"),
    path("metal.csv", downloads.csv, name="metal-csv"),
    path("readings/<int:pk>/", correcting.correct, name="metal-correct"),
    path("<str:kind>/<path:subject>/", views.subject, name="metal-subject"),
]
