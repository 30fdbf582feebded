"""Addresses of a car's errands."""

from django.urls import path

from asfound.desk.errands import downloads, errand, outside, sending

urlpatterns = [
    path("", outside.of_car, name="errands"),
    path("send/", sending.send, name="send-out"),
    path("errands.csv", downloads.csv_of_car, name="errands-csv"),
    path("errands.json", downloads.json_of_car, name="errands-json"),
    path("<int:pk>/", errand.errand, name="errand"),
    path("<int:pk>/back/", errand.back, name="errand-back"),
    path("<int:pk>/correct/", errand.correct, name="correct-errand"),
    path("<int:pk>/withdraw/", errand.withdraw, name="withdraw-errand"),
    path("<int:pk>/papers/add/", errand.add_paper, name="add-paper"),
    path("<int:pk>/papers/<str:name>", downloads.paper, name="paper"),
]
