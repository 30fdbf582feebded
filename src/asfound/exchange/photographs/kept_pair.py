"""Two photographs laid over each other, kept so that each pair is computed once."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from asfound.base import NotEnoughEvidenceError
from asfound.exchange.photographs.align import Progress, aligned
from asfound.exchange.photographs.kept import pictures_folder, put_whole
from asfound.record.shelf import place_of

_WAY = "1"
"""Of laying one over the other; another way of computing gets another number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Where both pictures of a pair lie, in one frame, and how well they agree.

    ``before`` and ``after`` are ``None`` where the two cannot be laid over each other; ``refusal``
    then says why.
    """

    before: Path | None
    after: Path | None
    matches_n: int = 0
    rms_px: float = 0.0
    refusal: str = ""


def is_laid(*, before: str, after: str) -> bool:
    """Whether the pair was computed before."""
    return _stem(before, after).with_suffix(".json").exists()


def laid_pair(*, before: str, after: str, progress: Progress | None = None) -> Laid:
    """Pair of photographs by their hashes, computed or as it was computed before.

    Parameters
    ----------
    before, after : str
        SHA-256 of the earlier and of the later photograph.
    progress : callable, optional
        Called with the share done, 0–1, while the pair is computed; what it raises ends that.

    Raises
    ------
    OSError
        If the shelf does not hold one of them.
    """
    stem = _stem(before, after)
    told = stem.with_suffix(".json")
    if not told.exists():
        _compute(stem, place_of(before), place_of(after), progress or _silent)
    kept = json.loads(told.read_text(encoding="utf-8"))
    if kept["refusal"]:
        return Laid(before=None, after=None, refusal=kept["refusal"])
    return Laid(
        before=stem.with_suffix(".before.jpg"),
        after=stem.with_suffix(".after.jpg"),
        matches_n=kept["matches_n"],
        rms_px=kept["rms_px"],
    )


def _stem(before: str, after: str) -> Path:
    return pictures_folder() / "pairs" / f"{before}-{after}-{_WAY}"


def _compute(stem: Path, before: Path, after: Path, tell: Progress) -> None:
    """The pictures are put down before the file that tells of them."""
    try:
        found = aligned(before, after, tell)
    except NotEnoughEvidenceError as error:
        told: dict[str, object] = {"refusal": str(error)}
    else:
        put_whole(stem.with_suffix(".before.jpg"), found.before)
        put_whole(stem.with_suffix(".after.jpg"), found.after)
        told = {"refusal": "", "matches_n": found.matches_n, "rms_px": found.rms_px}
    put_whole(stem.with_suffix(".json"), json.dumps(told).encode())


def _silent(_done: float) -> None:
    pass
