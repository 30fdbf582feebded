"""Addresses of a car's register of parts."""

from django.urls import path

from asfound.desk.parts import adding, assemblies, between, part, register

urlpatterns = [
    path("", register.register, name="parts"),
    path("add/", adding.quick_add, name="add-part"),
    path("assemblies/", assemblies.enter, name="enter-assembly"),
    path("assemblies/keep/", assemblies.keep_group, name="keep-group"),
    path("assemblies/<int:pk>/drop/", assemblies.drop, name="drop-assembly"),
    path("of/<path:part>/template/", assemblies.keep, name="keep-assembly"),
    path("of/<path:part>/lend/", between.lend, name="lend-part"),
    path("of/<path:part>/merge/", between.merge, name="merge-part"),
    path("of/<path:part>/edit/", part.edit, name="edit-part"),
    path("of/<path:part>/move/", part.move, name="move-part"),
    path("of/<path:part>/end/", part.end, name="end-part"),
    path("of/<path:part>/", part.part, name="part"),
]
