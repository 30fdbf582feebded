"""A drawn scene that a camera might have seen: ground, shapes, wear, a scale and a grey card."""

from __future__ import annotations

import io
from collections.abc import Sequence

import numpy as np
from PIL import ExifTags, Image, ImageDraw, ImageFilter, ImageFont
from shapely import Polygon

Point = tuple[float, float]
Colour = tuple[int, int, int]
SIZE_PX = (1_800, 1_200)
INVENTED = "INVENTED: drawn by the program, no photograph of a real thing"
_QUALITY = 88


class Easel:
    """A picture in the making, in mm of the thing that it shows.

    Parameters
    ----------
    left_mm, top_mm, width_mm : float
        What of the plane is in the picture.
    seed : int
        Of the grain of its surfaces.
    """

    def __init__(self, *, left_mm: float, top_mm: float, width_mm: float, seed: int) -> None:
        self._left, self._top = left_mm, top_mm
        self._scale = SIZE_PX[0] / width_mm
        self._draw = np.random.default_rng(seed)
        self.image = Image.new("RGB", SIZE_PX, (188, 182, 170))

    def shape(self, outline: Polygon | Sequence[Point], fill: Colour, *, grain: float) -> None:
        """Fill an outline with a worn colour."""
        points = list(outline.exterior.coords) if isinstance(outline, Polygon) else list(outline)
        edge = [self._px(*point[:2]) for point in [*points, points[0]]]
        mask = Image.new("L", SIZE_PX, 0)
        ImageDraw.Draw(mask).polygon(edge, fill=255)
        box = mask.getbbox()
        if box is not None:
            size = (box[2] - box[0], box[3] - box[1])
            self.image.paste(self._worn(fill, grain, size), box, mask.crop(box))
        ImageDraw.Draw(self.image).line(edge, fill=(38, 34, 28), width=3)

    def disc(self, x_mm: float, y_mm: float, radius_mm: float, fill: Colour) -> None:
        """Round thing, such as a wheel or the head of a screw."""
        (x, y), r = self._px(x_mm, y_mm), radius_mm * self._scale
        ImageDraw.Draw(self.image).ellipse(
            (x - r, y - r, x + r, y + r), fill=fill, outline=(30, 27, 22), width=3
        )

    def rust(self, x_mm: float, y_mm: float, radius_mm: float) -> None:
        """A patch that has come through the paint."""
        pen, r = ImageDraw.Draw(self.image), max(radius_mm * 0.07 * self._scale, 2)
        for dx, dy in self._draw.normal(0, radius_mm / 2, (140, 2)):
            x, y = self._px(x_mm + dx, y_mm + dy / 2)
            pen.ellipse((x - r, y - r, x + r, y + r), fill=(112, 62, 34))

    def words(self, text: str, x_mm: float, y_mm: float, high_mm: float, ink: Colour) -> None:
        """Letters, such as a number that was struck."""
        font = ImageFont.load_default(size=high_mm * self._scale)
        ImageDraw.Draw(self.image).text(self._px(x_mm, y_mm), text, font=font, fill=ink)

    def signed(self, tag: str) -> None:
        """Scale, grey card and the thing's number along the lower edge, and that it is invented."""
        pen = ImageDraw.Draw(self.image)
        wide, high = SIZE_PX
        pen.rectangle((0, high - 96, wide, high), fill=(244, 240, 230))
        for step in range(10):
            x = 30 + 30 * step
            pen.rectangle(
                (x, high - 76, x + 30, high - 56), fill=(20, 20, 20) if step % 2 else None
            )
        pen.rectangle((30, high - 76, 330, high - 56), outline=(20, 20, 20), width=2)
        length_mm = 300 / self._scale
        small, plain = ImageFont.load_default(size=24), ImageFont.load_default(size=30)
        pen.text((30, high - 48), f"{length_mm:.0f} mm", font=small, fill=(20, 20, 20))
        pen.rectangle((380, high - 84, 460, high - 12), fill=(119, 119, 119))
        pen.text((490, high - 82), tag, font=plain, fill=(20, 20, 20))
        pen.text((490, high - 44), INVENTED, font=small, fill=(90, 40, 20))

    def _px(self, x_mm: float, y_mm: float) -> Point:
        return (x_mm - self._left) * self._scale, (y_mm - self._top) * self._scale

    def _worn(self, fill: Colour, grain: float, size: tuple[int, int]) -> Image.Image:
        """The colour with grain at two scales, so that two pictures can be laid over each other."""
        wide, high = size
        rough = np.zeros((high, wide), np.float32)
        for every in (20, 3):
            noise = self._draw.standard_normal((-(-high // every), -(-wide // every)), np.float32)
            spread = Image.fromarray(noise * np.float32(grain)).resize((wide, high))
            rough += np.asarray(spread)
        bands = [np.clip(rough + one, 0, 255).astype(np.uint8) for one in fill]
        return Image.merge("RGB", [Image.fromarray(band) for band in bands])


def as_seen(image: Image.Image, *, turned: float = 0.0) -> Image.Image:
    """The scene through a camera that stood a little elsewhere, ``turned`` 0 to 1."""
    if turned:
        image = _from_aside(image, turned)
    return image.filter(ImageFilter.GaussianBlur(0.6))


def _from_aside(image: Image.Image, turned: float) -> Image.Image:
    tilt = turned * 2.4e-5
    return image.transform(
        SIZE_PX,
        Image.Transform.PERSPECTIVE,
        (1 - 0.03 * turned, 0.02 * turned, 20 * turned, -0.015 * turned, 1, 14 * turned, tilt, 0),
        Image.Resampling.BICUBIC,
        fillcolor=(188, 182, 170),
    )


def as_jpeg(image: Image.Image, *, taken: str) -> bytes:
    """Bytes with the camera's time; the same picture gives the same bytes."""
    exif = Image.Exif()
    exif[ExifTags.Base.ImageDescription] = INVENTED
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    out = io.BytesIO()
    image.save(out, "JPEG", quality=_QUALITY, exif=exif)
    return out.getvalue()
