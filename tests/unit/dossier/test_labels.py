"""Labels: on the paper where they belong, readable, none on what is used already."""

from __future__ import annotations

import io

import pikepdf
import pytest
import segno
import zxingcpp
from PIL import Image

from asfound.base import InputError
from asfound.dossier.labels import LABELS, Grid, Label, Roll, labels_pdf
from asfound.dossier.labels.sheet import code_svg

MM_PT = 72 / 25.4


def some(n: int) -> list[Label]:
    return [
        Label(tag=f"K7Q2M{n:02d}", address=f"http://bench/t/K7Q2M{n:02d}/", name=f"hinge {n}")
        for n in range(n)
    ]


@pytest.mark.parametrize("paper", LABELS.values(), ids=LABELS)
def test_every_paper_takes_its_labels(paper: Grid | Roll) -> None:
    pdf = pikepdf.open(io.BytesIO(labels_pdf(some(paper.a_page + 1), paper=paper)))
    assert len(pdf.pages) == 2
    box = [float(side) for side in pdf.pages[0].mediabox[2:]]
    assert box == pytest.approx([side * MM_PT for side in paper.page_mm], abs=0.1)


@pytest.mark.source("ISO 216: A4 is 210 mm by 297 mm")
def test_a_grid_lies_within_a4() -> None:
    for paper in LABELS.values():
        if isinstance(paper, Grid):
            x_mm, y_mm = paper.place_mm(paper.a_page - 1)
            assert 0 <= x_mm <= 210 - paper.width_mm + 0.5
            assert 0 <= y_mm <= 297 - paper.height_mm + 0.5
    with pytest.raises(InputError, match="210 × 297"):
        Grid(width_mm=80, height_mm=30, columns=3, rows=1, left_mm=0, top_mm=0)


def test_labels_that_are_used_stay_empty() -> None:
    paper = LABELS["A4, 3 × 8, 70 × 36 mm"]
    assert len(pikepdf.open(io.BytesIO(labels_pdf(some(2), paper=paper, first=23))).pages) == 2
    with pytest.raises(InputError, match="0 to 23"):
        labels_pdf(some(1), paper=paper, first=24)


def test_a_code_is_of_the_full_kind_with_its_quiet_zone() -> None:
    """Modules a side: 17 + 4 × version, from version 1 on (ISO/IEC 18004), and 4 free each side."""
    code = segno.make_qr("http://bench/t/K7Q2MPX/", error="m")
    side = 17 + 4 * int(code.version) + 8
    assert f'width="{side}"' in code_svg("http://bench/t/K7Q2MPX/").decode()


def test_a_label_too_small_for_a_phone_is_refused() -> None:
    with pytest.raises(InputError, match="15 or more"):
        Roll(width_mm=12, height_mm=30)


@pytest.mark.source("ISO/IEC 18004, read back by an independent decoder (ZXing-C++)")
def test_a_code_is_read_back_by_another_decoder() -> None:
    address = "http://192.168.1.20:8000/t/K7Q2MPX/"
    out = io.BytesIO()
    segno.make_qr(address, error="m").save(out, kind="png", scale=4, border=4)
    assert code_svg(address)[:4] == b"<svg"
    found = zxingcpp.read_barcodes(Image.open(out))
    assert [code.text for code in found] == [address]
