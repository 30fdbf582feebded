"""A picture to be drawn, with what the record says of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PIL import Image

from asfound.record.convert.photo_marks import Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture to be drawn, and what the record says of it; ``over`` names the earlier one."""

    name: str
    subject: str
    view: str
    stage: str
    taken: str
    draw: Callable[[], Image.Image]
    marks: tuple[Mark, ...] = ()
    over: str = ""
