"""The solver, held to silence."""

from __future__ import annotations

import highspy


class QuietHighs(highspy.Highs):
    """HiGHS without a word on standard output, where results go.

    Its constructor ends by enabling callbacks, and that prints a banner unless it is told not to.
    """

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]  # highspy types only part of itself

    def enableCallbacks(self) -> None:  # noqa: N802 - highspy's name
        """Silence first, then what the constructor asks for."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]
