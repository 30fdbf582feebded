"""Which photographs the conservation of a car asks for.

One rule is published: AIC's Guidelines for Practice ask for photographs before treatment, of what
is uncovered and covered again, and after it. What is to stand in the picture with the thing (its
number, a scale, a grey or colour target, the direction of the light) is told by the same
institute's guide to photographic documentation. The list of views is this program's own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Stage = Literal["before", "during", "after"]
Basis = Literal["published rule", "own list"]

WHOLE_CAR = "car"
"""What a photograph belongs to that shows the car and no single part."""
IN_THE_PICTURE = (
    "a scale in mm, in the plane of the thing",
    "a grey card or grey target, so that colour can be judged later",
    "the tag or number of the thing",
    "light from one side, and the side told if it matters",
)
"""What stands in the picture with the thing, after the published guide."""
BESIDE_IT = "a scale and a grey card beside it, if it is to be measured or its colour judged"
"""The same in one line, where a photograph is taken in passing."""
RULES = (
    "AIC, Guidelines for Practice: before treatment, what is uncovered and then covered again,"
    " after treatment."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedView:
    """A photograph that somebody will miss one day.

    Parameters
    ----------
    view : str
        How the thing is shown, in the words of the record.
    stage : {"before", "during", "after"}
    why : str
        What it is for.
    basis : {"published rule", "own list"}
    """

    view: str
    stage: Stage
    why: str
    basis: Basis = "own list"


_SIDES = (
    ("front", "square on, the whole car"),
    ("rear", "square on, the whole car"),
    ("left side", "square on, wheels straight ahead"),
    ("right side", "square on, wheels straight ahead"),
    ("front left corner", "three quarters, at the height of the headlamps"),
    ("front right corner", "three quarters, at the height of the headlamps"),
    ("rear left corner", "three quarters, at the height of the lamps"),
    ("rear right corner", "three quarters, at the height of the lamps"),
    ("from above", "panels that lie flat, from a ladder that stands safely"),
    ("underside", "only with the car safely supported, on stands made for it"),
    ("interior", "seats, doors, floor and dashboard"),
    ("engine room", "cables and pipes as they run"),
    ("boot", "floor, spare wheel, tools"),
)
OF_THE_CAR: tuple[WantedView, ...] = tuple(
    WantedView(view=view, stage="before", why=why) for view, why in _SIDES
) + tuple(
    WantedView(view=view, stage="after", why="from where the first was taken") for view, _ in _SIDES
)
OF_A_PART: tuple[WantedView, ...] = (
    WantedView(
        view="whole",
        stage="before",
        why="as it was before anyone touched it",
        basis="published rule",
    ),
    WantedView(view="marks", stage="before", why="numbers, stamps, labels, chalk and crayon"),
    WantedView(
        view="fixing places", stage="before", why="what holds it, washers and order, before removal"
    ),
    WantedView(
        view="hidden surfaces",
        stage="during",
        why="what shows once it is off, and will be covered again",
        basis="published rule",
    ),
    WantedView(
        view="whole", stage="after", why="from where the first was taken", basis="published rule"
    ),
)
_NUMBER = "number: "


def of_the_numbers(kinds: Iterable[str]) -> tuple[WantedView, ...]:
    """Views of the car's numbers and plates, each once.

    Parameters
    ----------
    kinds : iterable of str
        Kinds of the identifiers: chassis, engine, and so on.
    """
    return tuple(
        WantedView(
            view=f"{_NUMBER}{kind}",
            stage="before",
            why="square on with a scale, and once more in raking light",
        )
        for kind in dict.fromkeys(kinds)
        if kind
    )


def names_of_views() -> tuple[str, ...]:
    """Words for views to offer, each once; those of a part come first."""
    wanted = (*OF_A_PART, *OF_THE_CAR)
    return tuple(dict.fromkeys([*(one.view for one in wanted), "damage", "sample"]))
