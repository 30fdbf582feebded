"""Pictures of the work on the invented car: a mat before and after, and what lay under a wing."""

from __future__ import annotations

from PIL import Image

from asfound.demo.drawing import Drawing
from asfound.demo.easel import Colour, Easel, as_seen

_WOOL: Colour = (104, 84, 66)
_DARN: Colour = (116, 96, 76)
_BACKING: Colour = (170, 152, 118)
_STEEL: Colour = (126, 118, 108)
_UNDERSEAL: Colour = (44, 42, 40)
_FILLER: Colour = (196, 170, 138)


def bench_drawings() -> tuple[Drawing, ...]:
    """Pictures that were taken while the work went on."""
    return (
        Drawing(
            name="carpet-before",
            subject="carpet",
            view="whole",
            stage="before",
            taken="2024:04:08 08:04:10",
            draw=lambda: _mat(mended=False),
        ),
        Drawing(
            name="carpet-after",
            subject="carpet",
            view="whole",
            stage="after",
            taken="2024:04:09 10:52:31",
            draw=lambda: _mat(mended=True),
            over="carpet-before",
        ),
        Drawing(
            name="wing-under",
            subject="left front wing",
            view="damage",
            stage="during",
            taken="2024:04:08 14:06:18",
            draw=_under_wing,
        ),
    )


def _mat(*, mended: bool) -> Image.Image:
    easel = Easel(left_mm=0, top_mm=0, width_mm=1_200, seed=31)
    easel.shape(((0, 0), (1_200, 0), (1_200, 800), (0, 800)), (176, 166, 148), grain=9)
    mat = ((90, 60), (1_080, 48), (1_120, 640), (980, 690), (140, 676))
    easel.shape(mat, _WOOL, grain=16)
    heel = ((640, 300), (800, 280), (840, 420), (700, 470), (620, 400))
    easel.shape(heel, _DARN if mended else _BACKING, grain=13 if mended else 7)
    easel.signed("carpet, front, driver's side" + (", darned and backed" if mended else ""))
    return as_seen(easel.image, turned=0.6 if mended else 0.0)


def _under_wing() -> Image.Image:
    """Underseal scraped back: thin metal, pits, and filler that shows through the holes."""
    easel = Easel(left_mm=0, top_mm=0, width_mm=360, seed=32)
    easel.shape(((0, 0), (360, 0), (360, 240), (0, 240)), _UNDERSEAL, grain=9)
    easel.shape(((110, 40), (290, 34), (302, 176), (96, 182)), _STEEL, grain=14)
    easel.shape(((170, 86), (236, 78), (250, 126), (182, 138)), _FILLER, grain=6)
    for x, y, radius in ((160, 80, 16), (240, 140, 20), (210, 60, 12), (270, 90, 10)):
        easel.rust(x, y, radius)
    easel.signed("left front wing from below, behind the lamp")
    return as_seen(easel.image)
