"""The secret part of an invitation's link: signed, with role, cars and last day inside."""

from __future__ import annotations

from typing import Any

from django.core.signing import BadSignature, Signer

from asfound.base import InputError
from asfound.record.models import Invitation

_SALT = "asfound.invitation"


def token_of(invitation: Invitation) -> str:
    """Token of an invitation; the same each time, so that the link can be shown again."""
    return Signer(salt=_SALT).sign_object(_inside(invitation), compress=True)


def invitation_of(token: str) -> Invitation:
    """Invitation that a link stands for, if it can still be accepted.

    Raises
    ------
    InputError
        If the token is not one of ours, or the invitation was used, withdrawn or is too old.
    """
    try:
        inside = Signer(salt=_SALT).unsign_object(token)
        found = Invitation.objects.open().filter(pk=inside["invitation"]).first()
    except (BadSignature, KeyError, TypeError, ValueError):
        found = None
    if found is None or _inside(found) != inside:
        raise InputError(
            field="invitation",
            got="this link",
            allowed="whole as it was sent, used once only, within its days",
            remedy="Ask the head of the workshop for a new link.",
        )
    return found


def _inside(invitation: Invitation) -> dict[str, Any]:
    return {
        "invitation": invitation.pk,
        "role": invitation.role,
        "cars": sorted(invitation.cars.values_list("slug", flat=True)),
        "until": invitation.expires_at.isoformat(),
    }
