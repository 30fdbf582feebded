"""In what order the car goes together again: not simply the other way round."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from asfound.base import InputError
from asfound.plan.order import followers, in_order, ring
from asfound.plan.strip.piece import Assembly


@dataclass(frozen=True, slots=True, kw_only=True)
class RebuildLink:
    """``after`` goes on when ``before`` is on, whatever the order of stripping was.

    Parameters
    ----------
    before, after : str
    why : str
        Fluids, alignment, a seal, a fixing that is used once.
    note : str
        More of it in a person's words.
    """

    before: str
    after: str
    why: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rebuild:
    """The order of putting together.

    Parameters
    ----------
    benches : mapping of str to (tuple of str)
        Sub-assemblies that are made up on the bench, each with its pieces in order.
    sequence : tuple of str
        Pieces and sub-assemblies in the order in which they go on the car.
    needs : mapping of str to (tuple of str)
        By each name of the sequence those that are on before it.
    ring : tuple of str
        Names that wait for each other; then the sequence ends before them.
    """

    benches: Mapping[str, tuple[str, ...]]
    sequence: tuple[str, ...]
    needs: Mapping[str, tuple[str, ...]]
    ring: tuple[str, ...] = ()

    def pieces_of(self, name: str) -> tuple[str, ...]:
        """Pieces of a sub-assembly, or the one piece."""
        return self.benches.get(name, (name,))

    def still_off(self, off: Collection[str]) -> tuple[str, ...]:
        """Names of the sequence of which a piece is off, in its order."""
        return tuple(n for n in self.sequence if not set(off).isdisjoint(self.pieces_of(n)))

    def waits_for(self, name: str, off: Collection[str]) -> tuple[str, ...]:
        """What has to be on before a name and is still off.

        Parameters
        ----------
        name : str
            Of the sequence.
        off : collection of str
            Pieces that are off.

        Examples
        --------
        >>> from asfound.plan.strip import Joint, Piece
        >>> car = Assembly(
        ...     pieces=(Piece(piece="hub"), Piece(piece="wheel")),
        ...     joints=(Joint(piece="hub", after="wheel"),),
        ... )
        >>> built = rebuild_order(car)
        >>> built.waits_for("wheel", {"hub", "wheel"}), built.waits_for("wheel", {"wheel"})
        (('hub',), ())
        """
        still = set(self.still_off(off))
        return tuple(n for n in self.needs[name] if n in still)


def rebuild_order(
    assembly: Assembly,
    *,
    links: tuple[RebuildLink, ...] = (),
    benches: Mapping[str, str] | None = None,
    free_of: frozenset[tuple[str, str]] = frozenset(),
) -> Rebuild:
    """Order in which pieces go on again.

    Parameters
    ----------
    assembly : Assembly
    links : tuple of RebuildLink
        What the rebuild asks for by itself; where a link goes against a joint, the link counts.
    benches : mapping of str to str
        Sub-assembly by piece; its pieces are joined on the bench and go on as one.
    free_of : frozenset of (str, str)
        Joints (piece, after) that do not bind when rebuilding.

    Raises
    ------
    InputError
        If a link or a sub-assembly names a piece that does not exist.

    Notes
    -----
    A joint "a comes off after b" becomes "a is on before b", for a piece with ways along the way
    by which it came off in the strip sequence.
    """
    bench_of = dict(benches or {})
    for name in {*bench_of, *(n for link in links for n in (link.before, link.after))}:
        if name not in assembly.named:
            raise InputError(field="rebuild", got=name, allowed="the name of a piece")
    against = {(link.after, link.before) for link in links}
    pairs = [
        pair
        for pair in _reversed_joints(assembly)
        if pair not in against and (pair[0], pair[1]) not in free_of
    ] + [(link.before, link.after) for link in links]
    late_first = list(reversed(assembly.sequence)) + list(assembly.stuck)
    made = {
        bench: _ordered([n for n in late_first if bench_of.get(n) == bench], pairs)
        for bench in dict.fromkeys(bench_of.values())
    }
    tops = dict.fromkeys(bench_of.get(name, name) for name in late_first)
    between = [(bench_of.get(one, one), bench_of.get(two, two)) for one, two in pairs]
    between = list(dict.fromkeys((one, two) for one, two in between if one != two))
    after, needs = followers(tops, between), followers(tops, [pair[::-1] for pair in between])
    turning = ring(after)
    return Rebuild(
        benches={bench: order for bench, (order, _) in made.items()},
        sequence=tuple(_ordered(list(tops), between)[0]),
        needs={name: tuple(before) for name, before in needs.items()},
        ring=tuple(turning) or next((tuple(r) for _, r in made.values() if r), ()),
    )


def _reversed_joints(assembly: Assembly) -> list[tuple[str, str]]:
    """(piece, after) for each joint along the way by which each piece came off."""
    found: list[tuple[str, str]] = []
    off: set[str] = set()
    for name in assembly.sequence:
        ways = [way for way in assembly.ways[name].values() if off.issuperset(way)]
        taken = min(ways, key=len, default=())
        found += [(name, first) for first in (*assembly.always[name], *taken)]
        off.add(name)
    return list(dict.fromkeys(found))


def _ordered(names: list[str], pairs: list[tuple[str, str]]) -> tuple[tuple[str, ...], list[str]]:
    """Names in an order that the pairs allow, as near as can be to the one given; and a ring."""
    inside = set(names)
    kept = [(one, two) for one, two in pairs if one in inside and two in inside and one != two]
    after = followers(names, kept)
    return tuple(in_order(after)), ring(after)
