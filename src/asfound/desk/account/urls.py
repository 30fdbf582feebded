"""Addresses of signing in and out."""

from django.contrib.auth.views import LogoutView
from django.urls import path

from asfound.desk.account.views import SignIn

urlpatterns = [
    path("sign-in/", SignIn.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(next_page="sign-in"), name="sign-out"),
]
