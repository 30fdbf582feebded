"""The invented pictures: drawn alike each time and said to be invented."""

from __future__ import annotations

import io

from PIL import ExifTags, Image

from asfound.demo.easel import as_jpeg
from asfound.demo.pictures import drawings


def test_a_picture_is_drawn_alike_and_says_that_it_is_invented() -> None:
    plate = next(one for one in drawings() if one.name == "plate")
    first, second = (as_jpeg(plate.draw(), taken=plate.taken) for _ in range(2))
    assert first == second
    exif = Image.open(io.BytesIO(first)).getexif()
    assert "INVENTED" in exif[ExifTags.Base.ImageDescription]
