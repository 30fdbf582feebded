"""Address of the search."""

from django.urls import path

from asfound.desk.search import views

urlpatterns = [path("search/", views.search_page, name="search")]
