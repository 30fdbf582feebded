"""Addresses of signing in and out."""

from django.contrib.auth.views import LoginView, LogoutView
from django.urls import path

urlpatterns = [
    path(
        "sign-in/",
        LoginView.as_view(template_name="account/sign_in.html", redirect_authenticated_user=True),
        name="sign-in",
    ),
    path("sign-out/", LogoutView.as_view(next_page="sign-in"), name="sign-out"),
]
