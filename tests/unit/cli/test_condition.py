"""``asfound condition``: a report from a folder, with no database."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from asfound.__main__ import app
from asfound.cli.app import run

FINDINGS = (
    "subject,kind,extent,severity,found_on,found_by\n"
    "door,dent,40 mm,1,2031-04-02,Ilse Horn\n"
    "seat,seam open,180 mm,2,2031-04-02,Ilse Horn\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "car"
    place.mkdir()
    (place / "car.csv").write_text("marque,model,body_style,built\nOrvelle,Tansy,open,1957\n")
    (place / "findings.csv").write_text(FINDINGS)
    return place


def code_of(*arguments: str) -> int:
    with pytest.raises(SystemExit) as left:
        run(app, ["condition", *arguments])
    assert isinstance(left.value.code, int)
    return left.value.code


def attached(pdf: Path) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf.read_bytes())) as book:
        return book.attachments["findings.csv"].get_file().read_bytes().decode().split()


def test_the_report_of_the_car_lies_beside_its_folder(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code_of(str(folder), "--date", "2031-05-01") == 0
    told = capsys.readouterr()
    out = Path(told.out.strip())
    assert out == folder.with_name("car-condition.pdf")
    assert "2 findings" in told.err
    assert any("dent" in line for line in attached(out))


def test_of_one_part_alone_and_the_same_bytes_for_the_same_day(
    folder: Path, tmp_path: Path
) -> None:
    outs = [tmp_path / name for name in ("a.pdf", "b.pdf")]
    for out in outs:
        assert code_of(str(folder), "--of", "seat", "--date", "2031-05-01", "--out", str(out)) == 0
    assert outs[0].read_bytes() == outs[1].read_bytes()
    assert not any("dent" in line for line in attached(outs[0]))


def test_a_name_that_nothing_bears_is_told(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "none.pdf"
    assert code_of(str(folder), "--of", "wing", "--out", str(out)) == 3
    assert "wing" in capsys.readouterr().err
    assert not out.exists()
