"""Photographs: what a file is, how it is shown, which tags it holds, how two lie on each other."""

from asfound.exchange.photographs.about import About, about
from asfound.exchange.photographs.align import Aligned, aligned
from asfound.exchange.photographs.shown import shown
from asfound.exchange.photographs.tags_seen import tags_in
from asfound.exchange.photographs.take_in import Taken, take_in

__all__ = ["About", "Aligned", "Taken", "about", "aligned", "shown", "tags_in", "take_in"]
