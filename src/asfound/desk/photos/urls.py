"""Addresses of a car's photographs; one is known by the hash of its bytes."""

from django.urls import path

from asfound.desk.photos import adding, changing, gallery, pair, photo, pictures, wanted

urlpatterns = [
    path("", gallery.gallery, name="photos"),
    path("add/", adding.add, name="add-photos"),
    path("wanted/", wanted.wanted, name="wanted-photos"),
    path("laid/<str:after>/<str:before>/<slug:which>.jpg", pair.picture, name="laid-picture"),
    path("of/<str:sha256>/", photo.photo, name="photo"),
    path("of/<str:sha256>/original/", pictures.original, name="photo-original"),
    path("of/<str:sha256>/sort/", changing.sort, name="sort-photo"),
    path("of/<str:sha256>/marks/", changing.mark, name="mark-photo"),
    path("of/<str:sha256>/pair/", changing.pair_with, name="pair-photo"),
    path("of/<str:sha256>/withdraw/", changing.withdraw, name="withdraw-photo"),
    path("of/<str:sha256>/laid/", pair.fragment, name="photo-laid"),
    path("of/<str:sha256>/<slug:size>.jpg", pictures.picture, name="photo-picture"),
]
