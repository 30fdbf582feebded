"""Addresses of the colour of a car."""

from django.urls import path

from asfound.desk.colour import correcting, downloads, entering, page

urlpatterns = [
    path("", page.colour, name="colour"),
    path("with-film/", page.with_film, name="colour-with-film"),
    path("seams.svg", downloads.svg, name="colour-svg"),
    path("colour.csv", downloads.csv, name="colour-csv"),
    path("colour.json", downloads.json, name="colour-json"),
    path("enter/", entering.enter, name="enter-colour"),
    path("readings/<int:pk>/", correcting.correct, name="correct-colour"),
]
