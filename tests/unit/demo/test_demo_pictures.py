"""The invented pictures: drawn alike each time, said to be invented, and laid over each other."""

from __future__ import annotations

import io

import pytest
from PIL import ExifTags, Image

from asfound.demo.car import demo_folder
from asfound.demo.easel import as_jpeg
from asfound.demo.pictures import drawings, keep_pictures
from asfound.exchange.photographs import laid_pair
from asfound.record.actions import load_car


def test_a_picture_is_drawn_alike_and_says_that_it_is_invented() -> None:
    plate = next(one for one in drawings() if one.name == "plate")
    first, second = (as_jpeg(plate.draw(), taken=plate.taken) for _ in range(2))
    assert first == second
    exif = Image.open(io.BytesIO(first)).getexif()
    assert "INVENTED" in exif[ExifTags.Base.ImageDescription]


@pytest.mark.django_db
def test_the_record_of_the_demo_holds_them_and_pairs_fit(tmp_path, settings) -> None:
    settings.ASFOUND_HOME = tmp_path
    car = load_car(folder=demo_folder(), by=None)
    keep_pictures(car)
    photos = car.photos.current()
    assert photos.count() == len(drawings())
    known = {"car", *car.panels.values_list("panel", flat=True)}
    known |= set(car.parts.values_list("part", flat=True))
    assert set(photos.values_list("subject", flat=True)) <= known
    assert all("invented" in photo.note for photo in photos)
    later = [photo for photo in photos if photo.pair]
    assert len(later) == 3
    for photo in later:
        earlier = photos.get(file=photo.pair)
        laid = laid_pair(before=earlier.sha256, after=photo.sha256)
        assert not laid.refusal
        assert laid.matches_n >= 25
