"""Photographs: what a file is, how it is shown, which tags it holds, how two lie on each other."""

from asfound.exchange.photographs.about import About, about
from asfound.exchange.photographs.align import Aligned, aligned
from asfound.exchange.photographs.kept import (
    LARGE_PX,
    PRINT_PX,
    SMALL_PX,
    kept_picture,
    picture_on_shelf,
)
from asfound.exchange.photographs.kept_pair import Laid, is_laid, laid_pair
from asfound.exchange.photographs.read_in import ReadIn, read_in
from asfound.exchange.photographs.shown import shown
from asfound.exchange.photographs.tags_seen import tags_in
from asfound.exchange.photographs.take_in import Taken, keep_read, take_in

__all__ = [
    "LARGE_PX",
    "PRINT_PX",
    "SMALL_PX",
    "About",
    "Aligned",
    "Laid",
    "ReadIn",
    "Taken",
    "about",
    "aligned",
    "is_laid",
    "keep_read",
    "kept_picture",
    "laid_pair",
    "picture_on_shelf",
    "read_in",
    "shown",
    "tags_in",
    "take_in",
]
