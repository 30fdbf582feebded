"""Addresses of the bands of film, which all cars of the workshop share."""

from django.urls import path

from asfound.desk.survey import bands

urlpatterns = [
    path("", bands.film_bands_page, name="film-bands"),
    path("film-bands.csv", bands.film_bands_csv, name="film-bands-csv"),
    path("add/", bands.add_band, name="film-band-add"),
    path("<int:pk>/", bands.band, name="film-band"),
]
