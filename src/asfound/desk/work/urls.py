"""Addresses of the work on a car."""

from django.urls import path

from asfound.desk.work import card, doing, entries, of_car, piece

urlpatterns = [
    path("", of_car.work, name="work"),
    path("<str:table>.csv", of_car.csv, name="work-csv"),
    path("card/", card.card, name="card"),
    path("card/begin/", doing.begin, name="begin-work"),
    path("card/pause/", doing.pause, name="pause-work"),
    path("card/done/", doing.done, name="work-done"),
    path("card/photo/", doing.photo, name="photograph-work"),
    path("card/materials/", doing.material, name="use-material"),
    path("card/results/", doing.result, name="keep-result"),
    path("entries/<int:pk>/", entries.correct, name="correct-work"),
    path("of/", piece.record, name="treatment-record"),
    path("back-to/<path:subject>/", piece.record_of, name="work-of-piece"),
]
