"""Addresses of a car's needs."""

from django.urls import path

from asfound.desk.needs import listing, need, tracing

urlpatterns = [
    path("", listing.needs, name="needs"),
    path("add/", listing.add, name="add-need"),
    path("needs.csv", listing.csv, name="needs-csv"),
    path("<int:pk>/", need.need, name="need"),
    path("<int:pk>/matches/", need.matches, name="need-matches"),
    path("<int:pk>/correct/", need.correct, name="correct-need"),
    path("<int:pk>/trace/", tracing.trace, name="trace-need"),
    path("<int:pk>/withdraw/", need.withdraw, name="withdraw-need"),
]
