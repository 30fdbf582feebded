"""Work beside the pages: asked for once for the same inputs, shown as it goes, stoppable."""

from asfound.record.background.asking import (
    STOPPED,
    Asked,
    ask,
    do_here,
    given_id,
    standing,
    stop,
)
from asfound.record.background.place import is_anybody_working

__all__ = [
    "STOPPED",
    "Asked",
    "ask",
    "do_here",
    "given_id",
    "is_anybody_working",
    "standing",
    "stop",
]
