"""Photographs: read, shown without their place, sorted by labels, laid over each other."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
import segno
from PIL import ExifTags, Image
from scipy.ndimage import gaussian_filter
from skimage.transform import ProjectiveTransform, warp

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.exchange.photographs import about, aligned, shown, tags_in, take_in
from asfound.record.actions import add_parts, change_photo, withdraw_photo
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault
from asfound.record.models import Car
from asfound.record.shelf import place_of


def scene(seed: int = 1, size: tuple[int, int] = (480, 640)) -> np.ndarray:
    """A made-up surface with corners at many scales, 0 to 1."""
    draw = np.random.default_rng(seed)
    rough = sum(gaussian_filter(draw.normal(size=size), s) * s for s in (2, 5, 12))
    return (rough - rough.min()) / np.ptp(rough)


def picture(values: np.ndarray) -> Image.Image:
    return Image.fromarray((values * 255).astype(np.uint8)).convert("RGB")


def with_exif(path: Path, *, turned: int = 1) -> Path:
    image = picture(scene())
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = turned
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    inner[ExifTags.Base.DateTimeOriginal] = "2031:05:04 10:22:31"
    inner[ExifTags.Base.OffsetTimeOriginal] = "+02:00"
    place = exif.get_ifd(ExifTags.IFD.GPSInfo)
    place[ExifTags.GPS.GPSLatitudeRef], place[ExifTags.GPS.GPSLatitude] = "N", (51.0, 30.0, 0.0)
    image.save(path, exif=exif)
    return path


@pytest.mark.source("CIPA DC-008 (Exif 2.32): DateTimeOriginal, OffsetTimeOriginal, Orientation")
def test_the_camera_s_time_and_turn_are_read(tmp_path: Path) -> None:
    told = about(with_exif(tmp_path / "a.jpg", turned=6), name="a.jpg")
    assert not isinstance(told, Fault)
    assert told.taken_at == "2031-05-04T10:22:31+02:00"
    assert (told.width_px, told.height_px, told.suffix) == (480, 640, ".jpg")
    assert told.has_location


def test_what_is_shown_is_upright_small_and_says_no_place(tmp_path: Path) -> None:
    path = with_exif(tmp_path / "a.jpg", turned=6)
    data = shown(path, longest_px=160)
    (tmp_path / "b.jpg").write_bytes(data)
    told = about(tmp_path / "b.jpg", name="b.jpg")
    assert not isinstance(told, Fault)
    assert (told.width_px, told.height_px) == (120, 160)
    assert not told.has_location
    assert b"Exif" not in data
    assert about(path, name="a.jpg").has_location, "the original keeps what it says"  # type: ignore[union-attr]


def test_a_phone_s_heic_is_read_and_shown_as_jpeg() -> None:
    """A ramp from black at the upper left, encoded once with libheif; 128 by 96 px."""
    path = Path(__file__).parent / "data" / "made-up.heic"
    told = about(path, name="made-up.heic")
    assert not isinstance(told, Fault)
    assert (told.suffix, told.width_px, told.height_px) == (".heic", 128, 96)
    assert told.taken_at == "2031-05-04T10:22:31"
    small = np.asarray(Image.open(io.BytesIO(shown(path, longest_px=64))), dtype=float)
    assert small.shape == (48, 64, 3)
    assert np.abs(small[24, 32] - [128, 96, 112]).max() < 12


@pytest.mark.parametrize("name", ["a.gif", "a.txt"])
def test_what_is_no_photograph_is_told(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    if name == "a.gif":
        picture(scene()).save(path)
    else:
        path.write_text("no picture")
    told = about(path, name=name)
    assert isinstance(told, Fault)
    assert told.file == name
    assert "JPEG" in told.rule + told.remedy


def test_a_label_in_a_photograph_is_read(tmp_path: Path) -> None:
    path = tmp_path / "label.jpg"
    label(path, "http://bench/t/K7Q2MPX/")
    assert tags_in(path) == ("K7Q2MPX",)
    picture(scene()).save(tmp_path / "none.jpg")
    assert tags_in(tmp_path / "none.jpg") == ()


def label(path: Path, text: str) -> None:
    out = io.BytesIO()
    segno.make_qr(text, error="m").save(out, kind="png", scale=6, border=4)
    ground = picture(scene(3, (900, 1200)))
    ground.paste(Image.open(out).convert("RGB"), (400, 300))
    ground.rotate(4, expand=True, fillcolor="grey").save(path, quality=85)


def test_a_turned_and_shifted_photograph_is_laid_over_the_first(tmp_path: Path) -> None:
    """The map that made the second picture is known; its corners must come back within 2 px."""
    first = scene(5)
    true = ProjectiveTransform(
        np.array([[0.985, -0.06, 14.0], [0.055, 1.01, -9.0], [2e-5, -1e-5, 1.0]])
    )
    picture(first).save(tmp_path / "before.png")
    picture(warp(first, true.inverse, cval=0.5)).save(tmp_path / "after.png")
    told: list[float] = []
    found = aligned(tmp_path / "before.png", tmp_path / "after.png", told.append)
    assert told == sorted(told)
    assert told[0] == 0
    assert 0.8 <= told[-1] <= 1
    assert found.matches_n >= 25
    laid = np.asarray(Image.open(io.BytesIO(found.after)).convert("L"), dtype=float) / 255
    inner = (slice(60, -60), slice(60, -60))
    before = np.asarray(Image.open(io.BytesIO(found.before)).convert("L"), dtype=float) / 255
    assert np.corrcoef(laid[inner].ravel(), before[inner].ravel())[0, 1] > 0.97
    assert found.rms_px < 2


def test_two_things_are_not_laid_over_each_other(tmp_path: Path) -> None:
    picture(scene(5)).save(tmp_path / "a.png")
    picture(scene(6)).save(tmp_path / "b.png")
    Image.new("RGB", (300, 200), "grey").save(tmp_path / "blank.png")
    for other in ("b.png", "blank.png"):
        with pytest.raises(NotEnoughEvidenceError, match="side by side"):
            aligned(tmp_path / "a.png", tmp_path / other, lambda share: None)


@pytest.mark.django_db
def test_photographs_sort_themselves_by_the_labels_between_them(tmp_path: Path) -> None:
    car = Car.objects.create(slug="car")
    hinge, lamp = add_parts(car=car, rows=[{"name": "hinge"}, {"name": "lamp"}], by=None)
    for number, (part, seed) in enumerate(((hinge, 11), (lamp, 12))):
        label(tmp_path / f"{number}0.jpg", f"http://bench/t/{part.tag}/")
        picture(scene(seed)).save(tmp_path / f"{number}1.jpg")
    (tmp_path / "22.jpg").write_bytes(b"torn")
    files = [(path.name, path.open("rb")) for path in sorted(tmp_path.iterdir())]
    taken = take_in(
        files, car=car, subject="", view="detail", stage="before", by=None, by_labels=True
    )
    for _, stream in files:
        stream.close()
    assert [photo.subject for photo in taken.photos] == [hinge.part] * 2 + [lamp.part] * 2
    assert (taken.labels_n, [fault.file for fault in taken.faults]) == (2, ["22.jpg"])
    kept = folder_of(car)
    assert len(kept.files) == len(kept.sheet("photos")) == 4
    original = (tmp_path / "01.jpg").read_bytes()
    assert place_of(taken.photos[1].sha256).read_bytes() == original


@pytest.mark.django_db
def test_a_photograph_is_kept_once_and_its_rows_are_never_overwritten(tmp_path: Path) -> None:
    car = Car.objects.create(slug="car")
    picture(scene()).save(tmp_path / "a.jpg")
    rows = []
    for _ in range(2):
        with (tmp_path / "a.jpg").open("rb") as stream:
            taken = take_in(
                [("a.jpg", stream)], car=car, subject="sill", view="", stage="before", by=None
            )
        rows.append(taken.photos[0].pk)
    assert rows[0] == rows[1]
    photo = car.photos.get()
    new = change_photo(photo=photo, subject="door", reason="wrong panel", by=None)
    assert [row.text("subject") for row in folder_of(car).sheet("photos")] == ["door"]
    with pytest.raises(InputError, match="not changed or withdrawn"):
        change_photo(photo=photo, subject="roof", reason="again", by=None)
    with pytest.raises(InputError, match="before, during, after"):
        change_photo(photo=new, stage="later", reason="typed", by=None)
    withdraw_photo(photo=new, reason="a face is in it", by=None)
    assert len(folder_of(car).sheet("photos")) == 0
    assert car.photos.count() == 2
