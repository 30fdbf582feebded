"""Addresses of the decisions over a car."""

from django.urls import path

from asfound.desk.decisions import brief, locking, piece, views

urlpatterns = [
    path("", views.decisions, name="decisions"),
    path("choice/", views.choice, name="choice"),
    path("brief/", brief.edit_brief, name="edit-brief"),
    path("pieces/<path:subject>/lock/", locking.lock, name="lock"),
    path("pieces/<path:subject>/release/", locking.release, name="release"),
    path("pieces/<path:subject>/why/", piece.why, name="piece-why"),
    path("pieces/<path:subject>/", piece.piece, name="piece"),
]
