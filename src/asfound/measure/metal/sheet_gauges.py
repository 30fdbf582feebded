"""Nominal sheet thickness by wire gauge number or in millimetres; the system is always kept."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from asfound.base import InputError

GaugeSystem = Literal["SWG", "MSG", "mm"]

MM_PER_INCH = 25.4

# Standard wire gauge, inches; BS 3737 as restated in two public tables (secondary source).
SWG_IN: Mapping[int, float] = MappingProxyType(
    {
        1: 0.3,
        2: 0.276,
        3: 0.252,
        4: 0.232,
        5: 0.212,
        6: 0.192,
        7: 0.176,
        8: 0.16,
        9: 0.144,
        10: 0.128,
        11: 0.116,
        12: 0.104,
        13: 0.092,
        14: 0.08,
        15: 0.072,
        16: 0.064,
        17: 0.056,
        18: 0.048,
        19: 0.04,
        20: 0.036,
        21: 0.032,
        22: 0.028,
        23: 0.024,
        24: 0.022,
        25: 0.02,
        26: 0.018,
        27: 0.0164,
        28: 0.0148,
        29: 0.0136,
        30: 0.0124,
    }
)
# US manufacturers' standard gauge for steel sheet, inches; a public table (secondary source),
# which leaves out some numbers. A number that is missing there is missing here.
MSG_IN: Mapping[int, float] = MappingProxyType(
    {
        10: 0.1345,
        11: 0.1196,
        12: 0.1046,
        13: 0.0897,
        14: 0.0747,
        16: 0.0598,
        18: 0.0478,
        20: 0.0359,
        22: 0.0299,
        24: 0.0239,
        26: 0.0179,
        28: 0.0149,
        30: 0.012,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Nominal:
    """The thickness a sheet was ordered in, with the system that its number belongs to.

    Parameters
    ----------
    system : {"SWG", "MSG", "mm"}
        Standard wire gauge, US manufacturers' standard gauge, or plain millimetres.
    gauge : int or None
        The gauge number; None exactly when the system is "mm".
    thickness_mm : float
        The thickness that the number stands for, more than zero.

    Raises
    ------
    InputError
        If the system is unknown, the gauge is missing or too much, or the number and the
        thickness disagree by more than 0.001 mm.
    """

    system: GaugeSystem
    gauge: int | None
    thickness_mm: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.thickness_mm) and self.thickness_mm > 0):
            raise InputError(field="thickness_mm", got=self.thickness_mm, allowed="more than zero")
        if self.system == "mm":
            if self.gauge is not None:
                raise InputError(field="gauge", got=self.gauge, allowed="empty for millimetres")
        elif abs(_table_mm(self.system, self.gauge) - self.thickness_mm) > 0.001:
            raise InputError(
                field="thickness_mm",
                got=self.thickness_mm,
                allowed=f"{_table_mm(self.system, self.gauge):.4f}, {self.gauge} {self.system}",
                remedy="Use the table's thickness, or give the thickness in mm.",
            )


def _table_mm(system: str, gauge: int | None) -> float:
    tables = {"SWG": SWG_IN, "MSG": MSG_IN}
    if system not in tables:
        raise InputError(field="system", got=system, allowed="SWG, MSG or mm")
    table = tables[system]
    if gauge is None or gauge not in table:
        raise InputError(
            field="gauge",
            got=gauge,
            allowed=f"a number in the {system} table, {min(table)} to {max(table)}",
            remedy="Give the thickness in mm where the table has no such number.",
        )
    return table[gauge] * MM_PER_INCH


def nominal(*, system: Literal["SWG", "MSG"], gauge: int) -> Nominal:
    """The nominal sheet of a gauge number.

    Parameters
    ----------
    system : {"SWG", "MSG"}
        Whose numbers; the same number is another thickness in another system.
    gauge : int
        A number that the system's table holds.

    Raises
    ------
    InputError
        If the table has no such number.

    Examples
    --------
    >>> round(nominal(system="SWG", gauge=18).thickness_mm, 4)
    1.2192
    """
    return Nominal(system=system, gauge=gauge, thickness_mm=_table_mm(system, gauge))


def nominal_in_mm(thickness_mm: float) -> Nominal:
    """The nominal sheet of a thickness given in millimetres, more than zero."""
    return Nominal(system="mm", gauge=None, thickness_mm=thickness_mm)
