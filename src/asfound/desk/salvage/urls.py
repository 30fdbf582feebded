"""Addresses of the salvage stock."""

from django.urls import path

from asfound.desk.salvage import (
    adding,
    downloads,
    editing,
    listing,
    loading,
    pictures,
    piece,
    tracing,
    using,
)

urlpatterns = [
    path("", listing.stock_list, name="salvage"),
    path("add/", adding.add, name="add-salvage"),
    path("needs/", listing.needs_list, name="salvage-needs"),
    path("load/", loading.load, name="load-salvage"),
    path("tables/salvage.zip", downloads.whole, name="salvage-zip"),
    path("tables/<slug:table>.csv", downloads.csv, name="salvage-csv"),
    path("uses/<int:pk>/", using.end, name="end-salvage-use"),
    path("photos/<int:pk>/<slug:size>.jpg", pictures.picture, name="salvage-picture"),
    path("photos/<int:pk>/withdraw/", pictures.withdraw, name="withdraw-salvage-photo"),
    path("of/<str:number>/", piece.piece, name="salvage-piece"),
    path("of/<str:number>/serves/", piece.serves, name="salvage-serves"),
    path("of/<str:number>/edit/", editing.edit, name="edit-salvage"),
    path("of/<str:number>/trace/", tracing.trace, name="trace-salvage"),
    path("of/<str:number>/move/", editing.move, name="move-salvage"),
    path("of/<str:number>/withdraw/", editing.withdraw, name="withdraw-salvage"),
    path("of/<str:number>/photos/add/", pictures.add, name="add-salvage-photo"),
    path("of/<str:number>/take/", using.take, name="take-salvage"),
]
