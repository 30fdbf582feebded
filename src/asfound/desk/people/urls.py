"""Addresses of people, invitations, shared tablets, and a car's owner."""

from django.urls import path

from asfound.desk.people import accepting, inviting, keeping, own_account, owner, pin, tablets

urlpatterns = [
    path("people/", keeping.people, name="people"),
    path("people/<int:pk>/", keeping.person, name="person"),
    path("people/invitations/", inviting.invitations, name="invitations"),
    path("people/invitations/<int:pk>/withdraw/", inviting.withdraw, name="withdraw-invitation"),
    path("people/tablets/", tablets.tablets, name="tablets"),
    path("people/tablets/<int:pk>/withdraw/", tablets.withdraw, name="withdraw-tablet"),
    path("invitation/<str:token>/", accepting.accept, name="accept-invitation"),
    path("own-account/", own_account.own_account, name="own-account"),
    path("tablet/", pin.names, name="tablet-names"),
    path("tablet/switch/", pin.switch, name="switch-person"),
    path("tablet/<int:pk>/", pin.enter, name="tablet-pin"),
    path("cars/<slug:slug>/owner/", owner.owner, name="car-owner"),
]
