"""Addresses of the errands over all cars."""

from django.urls import path

from asfound.desk.errands import downloads, outside

urlpatterns = [
    path("", outside.of_workshop, name="all-errands"),
    path("errands.csv", downloads.csv_of_workshop, name="all-errands-csv"),
]
