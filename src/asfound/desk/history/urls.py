"""Addresses of the history of a car."""

from django.urls import path

from asfound.desk.history import adding, downloads, page, statement

urlpatterns = [
    path("", page.history, name="history"),
    path("history.json", downloads.json, name="history-json"),
    path("timeline.svg", downloads.svg, name="history-svg"),
    path("event/", adding.event, name="add-event"),
    path("link/", adding.link, name="add-link"),
    path("statement/<str:kind>/<path:name>/", statement.statement, name="statement"),
]
