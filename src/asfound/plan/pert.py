"""The classical reckoning of a network with three-point times, without people or places."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from scipy import special

from asfound.plan.critical import network_times
from asfound.plan.task import Hours


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkFinish:
    """Finish of a network along its critical path.

    Parameters
    ----------
    path : tuple of str
        Critical activities in order.
    mean, variance : float
        Of the finish, in the unit of the times and its square.
    """

    path: tuple[str, ...]
    mean: float
    variance: float

    def chance_by(self, time: float) -> float:
        """Chance that the network has finished by then, the finish taken as normal."""
        if not self.variance:
            return float(time >= self.mean)
        return float(special.ndtr((time - self.mean) / self.variance**0.5))


def mean_of(hours: Hours) -> float:
    """Mean by the three-point rule, (low + 4 likely + high)/6."""
    return (hours.low + 4 * hours.likely + hours.high) / 6


def variance_of(hours: Hours) -> float:
    """Variance by the three-point rule, ((high − low)/6)²."""
    return ((hours.high - hours.low) / 6) ** 2


def network_finish(hours: Mapping[str, Hours], links: tuple[tuple[str, str], ...]) -> NetworkFinish:
    """Mean and variance of a network's finish along the path that is critical at the means.

    References
    ----------
    Malcolm, D. G., Roseboom, J. H., Clark, C. E. and Fazar, W. (1959), Operations Research 7(5),
    646–669.

    Notes
    -----
    Known to promise too early: it looks at one path only, and takes no notice of people, places
    and what tasks of a trade have in common. The promise of a plan is simulated instead.
    """
    times = network_times({name: mean_of(h) for name, h in hours.items()}, links)
    path = _critical_path({name: mean_of(h) for name, h in hours.items()}, links)
    return NetworkFinish(
        path=path,
        mean=max((t.early_finish for t in times.values()), default=0.0),
        variance=sum(variance_of(hours[name]) for name in path),
    )


def _critical_path(
    means: Mapping[str, float], links: tuple[tuple[str, str], ...]
) -> tuple[str, ...]:
    """One longest path, walked back from the activity that ends last."""
    times = network_times(means, links)
    if not times:
        return ()
    path = [max(times, key=lambda name: times[name].early_finish)]
    while True:
        before = [one for one, two in links if two == path[-1]]
        if not before:
            return tuple(reversed(path))
        path.append(max(before, key=lambda name: times[name].early_finish))
