"""Usual proportions of each form, for measurements that nobody has taken yet.

They are common practice seen across generic cars of the 1930s to 1970s, no source, and they
follow no particular car. Every length drawn from them is named as assumed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from asfound.measure.sheet.forms import BodyForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """Each length as a share of another one that has been measured.

    Parameters
    ----------
    front_overhang : float
        Of what length leaves beside the wheelbase.
    bonnet, boot : float
        Of the overall length; for a pick-up ``boot`` is the bed.
    bonnet_width : float
        Of the overall width, at the bonnet's rear edge.
    door : float
        Of the wheelbase: front and rear door together.
    front_door : float
        Of ``door``; 1 where there is no rear door.
    glass : float
        Of the height.
    wheel : float
        Of the wheelbase.
    sill : float
        Of the wheel's diameter.
    """

    front_overhang: float = 0.43
    bonnet: float = 0.255
    boot: float = 0.20
    bonnet_width: float = 0.74
    door: float = 0.72
    front_door: float = 0.54
    glass: float = 0.285
    wheel: float = 0.245
    sill: float = 0.31


_ONE_PIECE: dict[BodyForm, Shares] = {
    BodyForm.SALOON: Shares(),
    BodyForm.COUPE: Shares(bonnet=0.30, boot=0.17, door=0.47, front_door=1.0, glass=0.27),
    BodyForm.OPEN_TWO_SEATER: Shares(
        bonnet=0.32, boot=0.17, door=0.40, front_door=1.0, bonnet_width=0.70
    ),
    BodyForm.OPEN_FOUR_SEATER: Shares(bonnet=0.28, boot=0.18, door=0.66),
    BodyForm.ESTATE: Shares(boot=0.0),
    BodyForm.VAN: Shares(
        bonnet=0.21, boot=0.0, door=0.37, front_door=1.0, glass=0.25, bonnet_width=0.70
    ),
    BodyForm.PICK_UP: Shares(bonnet=0.25, boot=0.38, door=0.37, front_door=1.0, glass=0.25),
}


def usual_shares(form: BodyForm, *, separate_wings: bool) -> Shares:
    """Usual proportions of a form, with wings in one piece with the body or separate."""
    shares = _ONE_PIECE[form]
    if not separate_wings:
        return shares
    return replace(
        shares,
        front_overhang=0.44,
        bonnet=max(shares.bonnet, 0.24),
        boot=shares.boot * 0.82,
        bonnet_width=0.58,
        door=shares.door * 0.90,
        glass=shares.glass * 0.86,
        wheel=0.262,
        sill=0.42,
    )
