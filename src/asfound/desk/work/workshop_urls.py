"""Addresses of the cards over all cars."""

from django.urls import path

from asfound.desk.work import ahead, today

urlpatterns = [
    path("", today.cards, name="todays-cards"),
    path("as/", today.work_as, name="work-as"),
    path("worker.js", ahead.worker, name="pages-worker"),
]
