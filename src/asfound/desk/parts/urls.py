"""Addresses of a car's register of parts."""

from django.urls import path

from asfound.desk.parts import adding, part, register

urlpatterns = [
    path("", register.register, name="parts"),
    path("add/", adding.quick_add, name="add-part"),
    path("of/<path:part>/edit/", part.edit, name="edit-part"),
    path("of/<path:part>/move/", part.move, name="move-part"),
    path("of/<path:part>/end/", part.end, name="end-part"),
    path("of/<path:part>/", part.part, name="part"),
]
