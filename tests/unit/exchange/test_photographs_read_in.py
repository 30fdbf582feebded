"""Photographs as they come: large ones, torn ones, traps; small pictures are made once."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from asfound.base import StoppedError
from asfound.exchange.photographs import (
    SMALL_PX,
    ReadIn,
    is_laid,
    kept_picture,
    laid_pair,
    picture_on_shelf,
    read_in,
)
from asfound.record.faults import Fault
from asfound.record.shelf import place_of


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, settings) -> Path:
    settings.ASFOUND_HOME = tmp_path
    return tmp_path


def blocks(width: int, height: int, seed: int = 1) -> Image.Image:
    draw = np.random.default_rng(seed)
    small = draw.integers(0, 255, (height // 50, width // 50, 3), dtype=np.uint8)
    return Image.fromarray(small).resize((width, height), Image.Resampling.NEAREST)


def as_bytes(image: Image.Image, kind: str) -> bytes:
    out = io.BytesIO()
    image.save(out, kind)
    return out.getvalue()


def chunk(kind: bytes, data: bytes) -> bytes:
    check = zlib.crc32(kind + data)
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_fifty_million_pixels_are_taken(kind: str) -> None:
    data = as_bytes(blocks(8_200, 6_100), kind)
    got = read_in(f"large.{kind}", io.BytesIO(data))
    assert isinstance(got, ReadIn)
    assert (got.about.width_px, got.size) == (8_200, len(data))
    with Image.open(kept_picture(got.sha256, longest_px=SMALL_PX)) as small:
        assert small.size == (480, 357)


@pytest.mark.source("ISO/IEC 15948 (PNG), IHDR: width and height as four bytes each")
@pytest.mark.parametrize("side", [12_000, 60_000])
def test_a_file_that_claims_more_pixels_than_a_camera_has_is_not_opened(side: int) -> None:
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0))
    data = b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    got = read_in("trap.png", io.BytesIO(data))
    assert isinstance(got, Fault)
    assert "million pixels" in got.rule


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_photograph_that_breaks_off_is_told(kind: str) -> None:
    data = as_bytes(blocks(800, 600), kind)
    got = read_in("torn", io.BytesIO(data[: len(data) * 2 // 3]))
    assert isinstance(got, Fault)
    assert "once more" in got.remedy


def test_a_small_picture_is_made_once_and_can_be_made_again() -> None:
    got = read_in("a.jpg", io.BytesIO(as_bytes(blocks(800, 600), "JPEG")))
    assert isinstance(got, ReadIn)
    place = kept_picture(got.sha256, longest_px=SMALL_PX)
    first = (place.read_bytes(), place.stat().st_mtime_ns)
    kept_picture(got.sha256, longest_px=SMALL_PX)
    assert place.stat().st_mtime_ns == first[1]
    place.unlink()
    assert kept_picture(got.sha256, longest_px=SMALL_PX).read_bytes() == first[0]
    assert not list(place.parent.glob(".draft-*"))


def test_a_picture_of_bytes_that_are_not_there_is_none() -> None:
    assert picture_on_shelf("photos/a.jpg", "0" * 64) is None
    assert picture_on_shelf("photos/a.jpg", "no hash") is None


def test_a_pair_that_cannot_be_laid_is_refused_without_being_computed_again() -> None:
    hashes = []
    for shade in (40, 90):
        data = as_bytes(Image.new("RGB", (300, 200), (shade, shade, shade)), "PNG")
        got = read_in("a.png", io.BytesIO(data))
        assert isinstance(got, ReadIn)
        hashes.append(got.sha256)
    first = laid_pair(before=hashes[0], after=hashes[1])
    assert "too few points" in first.refusal
    for sha256 in hashes:
        place_of(sha256).unlink()
    assert laid_pair(before=hashes[0], after=hashes[1]) == first


def test_laying_a_pair_tells_how_far_it_is_and_a_stop_keeps_nothing() -> None:
    hashes = []
    for seed in (1, 2):
        dots = np.random.default_rng(seed).integers(0, 255, (200, 300), dtype=np.uint8)
        got = read_in("a.png", io.BytesIO(as_bytes(Image.fromarray(dots), "PNG")))
        assert isinstance(got, ReadIn)
        hashes.append(got.sha256)
    pair, told = {"before": hashes[0], "after": hashes[1]}, []

    def stop(done: float) -> None:
        told.append(done)
        if done > 0.6:
            raise StoppedError

    with pytest.raises(StoppedError):
        laid_pair(**pair, progress=stop)
    assert len(told) > 3
    assert told == sorted(told)
    assert not is_laid(**pair)
    assert laid_pair(**pair).refusal
