"""What is asked of people, and by people."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.record.models import Car, Person
from asfound.record.models.person import Role


class ReasonForm(forms.Form):
    """Why something is taken back."""

    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )


class InviteForm(forms.Form):
    """Whom to invite, and as what."""

    whom = forms.CharField(label="For whom", max_length=200, help_text="A name, for this list")
    role = forms.ChoiceField(label="As", choices=Role.choices, initial=Role.CRAFTSPERSON)
    car = forms.CharField(
        label="Car that an owner will see",
        required=False,
        max_length=80,
        help_text="Empty for the workshop, which sees every car",
        widget=forms.TextInput(attrs={"list": "cars-known", "autocomplete": "off"}),
    )

    def clean(self) -> dict[str, Any]:
        """Answers, with the car itself in place of its short name."""
        data = super().clean() or {}
        slug = (data.get("car") or "").strip()
        found = Car.objects.filter(slug=slug).first() if slug else None
        if slug and found is None:
            self.add_error("car", f"The record has no car {slug}. Choose one of the list.")
        if found and data.get("role") != Role.OWNER:
            self.add_error("car", "Only an owner has a car; the workshop sees every car.")
        data["cars"] = [found] if found else []
        return data


class AcceptForm(forms.Form):
    """The name and password of somebody who was invited."""

    username = forms.CharField(
        label="Name to sign in with",
        max_length=150,
        widget=forms.TextInput(attrs={"autocomplete": "username"}),
    )
    password = forms.CharField(
        label="Password",
        strip=False,
        max_length=4000,
        help_text="8 signs at least; a few words that only you would put together are good",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    again = forms.CharField(
        label="The password again",
        strip=False,
        max_length=4000,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def clean(self) -> dict[str, Any]:
        """Answers, if both passwords are one."""
        data = super().clean() or {}
        if data.get("password") and data.get("password") != data.get("again"):
            self.add_error("again", "The two are not the same. Type both once more.")
        return data


class RoleForm(ReasonForm):
    """Another role, and why."""

    role = forms.ChoiceField(label="Role from now on", choices=Role.choices)


class NewPasswordForm(forms.Form):
    """A password that the head sets for somebody who forgot theirs."""

    password = forms.CharField(
        label="New password",
        strip=False,
        max_length=4000,
        help_text="Tell it to them; they can choose another on their own page",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )


class OwnPasswordForm(forms.Form):
    """The old password and the new one."""

    old = forms.CharField(
        label="Password until now",
        strip=False,
        max_length=4000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    password = forms.CharField(
        label="New password",
        strip=False,
        max_length=4000,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )


class PinForm(forms.Form):
    """A PIN of 4 to 8 digits."""

    pin = forms.CharField(
        label="PIN",
        max_length=8,
        widget=forms.PasswordInput(
            attrs={"inputmode": "numeric", "autocomplete": "off", "pattern": "[0-9]*"}
        ),
    )


class TabletForm(forms.Form):
    """What a shared tablet is called."""

    name = forms.CharField(label="Name of this tablet", max_length=80, help_text="Where it hangs")


class OwnerForm(forms.Form):
    """An owner who has an account already."""

    owner = forms.CharField(
        label="Owner's name", max_length=150, widget=forms.TextInput(attrs={"list": "owners-known"})
    )

    def clean_owner(self) -> Person:
        """Person of that name who is an owner."""
        name = self.cleaned_data["owner"].strip()
        found = Person.objects.current().filter(user__username=name, role=Role.OWNER).first()
        if found is None:
            raise forms.ValidationError(
                "No owner with an account has that name. Send an invitation instead."
            )
        return found
