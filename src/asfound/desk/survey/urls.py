"""Addresses of the survey of a car's finish."""

from django.urls import path

from asfound.desk.survey import band_evidence, base, correcting, downloads, loading, panel, sheet

urlpatterns = [
    path("", sheet.survey, name="survey"),
    path("map/", sheet.survey_map, name="survey-map"),
    path("map.svg", downloads.svg, name="survey-svg"),
    path("film.csv", downloads.csv, name="survey-csv"),
    path("film.json", downloads.json, name="survey-json"),
    path("load/", loading.load_table, {"table": "film"}, name="load-film"),
    path("load/<str:table>/", loading.load_table, name="load-table"),
    path("load/<str:table>/<str:token>/", loading.match_table, name="match-table"),
    path("base/", base.film_base, name="film-base"),
    path("bands/<int:pk>/evidence/", band_evidence.use_band, name="band-evidence"),
    path("bands/evidence/back/", band_evidence.take_back, name="band-evidence-back"),
    path("readings/<int:pk>/", correcting.correct, name="correct"),
    path("panels/<path:panel>/", panel.panel, name="panel"),
]
