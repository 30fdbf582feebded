"""The body forms that a sheet can be drawn for."""

from __future__ import annotations

from enum import StrEnum


class BodyForm(StrEnum):
    """What a car's body is in outline; the value is the word of the trade."""

    SALOON = "saloon"
    COUPE = "coupé"
    OPEN_TWO_SEATER = "open two-seater"
    OPEN_FOUR_SEATER = "open four-seater"
    ESTATE = "estate"
    VAN = "van"
    PICK_UP = "pick-up"

    @property
    def closed(self) -> bool:
        """Whether a fixed roof stands over the seats."""
        return self not in {BodyForm.OPEN_TWO_SEATER, BodyForm.OPEN_FOUR_SEATER}

    @property
    def rear_doors(self) -> bool:
        """Whether a second door is drawn on each side."""
        return self in {BodyForm.SALOON, BodyForm.ESTATE, BodyForm.OPEN_FOUR_SEATER}

    @property
    def boot_lid(self) -> bool:
        """Whether a lid lies on top behind the seats."""
        return self.closed is False or self in {BodyForm.SALOON, BodyForm.COUPE}

    @property
    def load_bed(self) -> bool:
        """Whether an open bed stands behind the cab."""
        return self is BodyForm.PICK_UP

    @property
    def upright_tail(self) -> bool:
        """Whether the rear end stands up straight and opens as a whole."""
        return self in {BodyForm.ESTATE, BodyForm.VAN, BodyForm.PICK_UP}
