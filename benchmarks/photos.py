"""What taking photographs in costs beside making thumbnails alone.

Run with ``python -m benchmarks.photos [photographs]``. So many invented photographs of 12 million
pixels are written once; then, in turn by small groups so that a busy machine slows both alike,
each is taken in (hash, shelf with the flush to the disk, what its file says, small picture) and
thumbnailed by a plain Pillow loop in draft mode. The ratio of the two times is told; target 1.3.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

WIDE, HIGH = 4_000, 3_000
GROUP = 5


def main() -> None:
    """Prints both times a photograph and their ratio."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory(prefix="asfound-photos-") as scratch:
        os.environ["ASFOUND_HOME"] = str(Path(scratch) / "home")
        from asfound import site  # noqa: PLC0415 - reads the environment when imported

        site.setup()
        files = written(Path(scratch), count)
        megabytes = sum(file.stat().st_size for file in files) / count / 1e6
        print(f"{count} photographs of 12 Mpx, {megabytes:.1f} MB each")
        ours, plain = timed(files, Path(scratch) / "plain")
        print(f"  taken in        {1e3 * ours / count:7.1f} ms each")
        print(f"  thumbnail alone {1e3 * plain / count:7.1f} ms each")
        print(f"  ratio           {ours / plain:7.2f}")


def written(folder: Path, count: int) -> list[Path]:
    """Photographs that compress as a camera's do: one scene, moved along and relit."""
    draw = np.random.default_rng(7)
    rough = sum(gaussian_filter(draw.normal(size=(HIGH, WIDE)), s) * s for s in (1.2, 4, 15))
    scene = (255 * (rough - rough.min()) / np.ptp(rough)).astype(np.uint8)
    files = []
    for number in range(count):
        moved = np.roll(scene, 37 * number, axis=1)
        picture = Image.merge("RGB", [Image.fromarray(np.roll(moved, k, axis=0)) for k in range(3)])
        files.append(folder / f"{number:03d}.jpg")
        picture.save(files[-1], quality=92)
    return files


def timed(files: list[Path], out: Path) -> tuple[float, float]:
    """Seconds of both ways over all files, which alternate by groups."""
    from asfound.exchange.photographs import SMALL_PX, ReadIn, read_in  # noqa: PLC0415

    out.mkdir()
    for file in files[:2]:  # both ways once before the clock runs
        thumbnail(file, out, SMALL_PX)
    ours = plain = 0.0
    for first in range(0, len(files), GROUP):
        group = files[first : first + GROUP]
        begun = time.perf_counter()
        for file in group:
            with file.open("rb") as stream:
                assert isinstance(read_in(file.name, stream), ReadIn)
        between = time.perf_counter()
        for file in group:
            thumbnail(file, out, SMALL_PX)
        ours += between - begun
        plain += time.perf_counter() - between
    return ours, plain


def thumbnail(file: Path, out: Path, longest_px: int) -> None:
    """The plain loop: draft, thumbnail, save."""
    with Image.open(file) as image:
        image.draft("RGB", (longest_px, longest_px))
        image.thumbnail((longest_px, longest_px))
        image.save(out / file.name)


if __name__ == "__main__":
    main()
