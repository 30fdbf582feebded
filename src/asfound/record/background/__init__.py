"""Work beside the pages: begun once for the same inputs, shown as it goes, stoppable."""

from asfound.record.background.asking import Asked, begin, given_id, standing, stop
from asfound.record.background.place import is_anybody_working

__all__ = ["Asked", "begin", "given_id", "is_anybody_working", "standing", "stop"]
