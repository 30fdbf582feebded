"""Made-up colour readings of one place."""

from __future__ import annotations

from typing import Literal

from asfound.measure.colour import ColourReading, Viewing

D65 = Viewing(illuminant="D65", observer="10")
GREEN = (45.0, -13.0, 18.0)


def at(
    subject: str,
    lab: tuple[float, float, float] = GREEN,
    exposure: Literal["exposed", "hidden"] = "exposed",
    viewing: Viewing = D65,
) -> ColourReading:
    return ColourReading(
        subject=subject,
        x_mm=0,
        y_mm=0,
        l_star=lab[0],
        a_star=lab[1],
        b_star=lab[2],
        exposure=exposure,
        viewing=viewing,
    )
