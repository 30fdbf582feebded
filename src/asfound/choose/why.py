"""Why one piece got its option."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Why:
    """Why one subject got its option.

    Parameters
    ----------
    subject, option : str
    because : str
        The reason in plain words.
    runner_up : str
        What the subject takes when its option is forbidden and the whole car is chosen again;
        empty when nothing else is possible.
    kept_lost : float or None
        Share of the car's original fabric lost by that, 0–1; None without a runner-up.
    cost_change : float or None
        What the whole car would cost more by that.
    hours_change : mapping of str to float
        Hours by trade that the whole car would take more by that.
    with_it : mapping of str to str
        What the other subjects that change with the runner-up take, by subject: pieces with the
        same whole choice as their runner-up stand or fall together.
    flips_when : str
        What would change the option, with a number where there is one.
    proved : bool
        False when time was short: the runner-up is then only the best swap of this subject
        alone, and the true loss may be smaller.
    """

    subject: str
    option: str
    because: str
    runner_up: str
    kept_lost: float | None
    cost_change: float | None
    hours_change: Mapping[str, float]
    flips_when: str
    with_it: Mapping[str, str] = field(default_factory=dict)
    proved: bool = True
