"""Labels held before a phone's camera: the browser is given a film of them for its camera."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
import segno
from django.urls import reverse
from PIL import Image, ImageFilter
from playwright.sync_api import BrowserType, Page, expect
from tests.browser.conftest import PHONE, become

from asfound.record.actions import add_parts, add_place
from asfound.record.models import Car

pytestmark = pytest.mark.django_db(transaction=True)
FRAMES_EACH = 45
WIDE, HIGH = 640, 480


def frame(text: str, *, turned_deg: float) -> bytes:
    """A label on a bench as a hand-held camera takes it: turned, grey, a little out of focus."""
    code = io.BytesIO()
    segno.make_qr(text, error="m").save(code, kind="png", scale=7, border=4)
    with Image.open(code) as label:
        lies = label.convert("L").rotate(turned_deg, expand=True, fillcolor=190)
    seen = Image.new("L", (WIDE, HIGH), 190)
    seen.paste(lies, ((WIDE - lies.width) // 2, (HIGH - lies.height) // 2))
    out = io.BytesIO()
    seen.filter(ImageFilter.GaussianBlur(1.2)).convert("RGB").save(out, "JPEG", quality=80)
    return out.getvalue()


def film(path: Path, texts: list[str]) -> Path:
    """Motion JPEG, which is one picture after the other, each label for a while and again."""
    with path.open("wb") as sink:
        for number, text in enumerate(texts):
            sink.write(frame(text, turned_deg=11 - 17 * number) * FRAMES_EACH)
    return path


@pytest.fixture
def phone(
    browser_type: BrowserType, browser_type_launch_args: dict, tmp_path: Path, live_server
) -> Iterator[Page]:
    """A phone whose camera sees the film ``camera.mjpeg``, which the test puts there first."""
    seen = tmp_path / "camera.mjpeg"
    own = [
        "--use-fake-device-for-media-stream",
        "--use-fake-ui-for-media-stream",
        f"--use-file-for-fake-video-capture={seen}",
    ]
    args = [*browser_type_launch_args["args"], *own]
    browser = browser_type.launch(**{**browser_type_launch_args, "args": args})
    page = browser.new_page(viewport=PHONE, permissions=["camera"])
    yield page
    browser.close()


def test_a_part_held_before_the_camera_is_found_and_goes_into_the_box_held_after_it(
    phone: Page,
    car: Car,
    live_server,
    tmp_path: Path,
) -> None:
    (hinge,) = add_parts(car=car, rows=[{"name": "door hinge", "place": "bench"}], by=None)
    box = add_place(name="box 4", kind="box", by=None)
    address = live_server.url
    labels = [f"{address}/t/{tag}/" for tag in (hinge.tag, box.tag)]
    film(tmp_path / "camera.mjpeg", [*labels, "WIFI:S:workshop;T:WPA;P:no label of ours;;"])
    become(phone, live_server, "trimmer")
    phone.goto(address + reverse("scan"))
    phone.get_by_role("button", name="Open the camera").click()
    found = phone.locator("[data-camera-seen] a")
    expect(found).to_contain_text("door hinge")
    expect(found).to_have_attribute("href", reverse("part", args=(car.slug, hinge.part)))
    expect(phone.get_by_label("tag of the place they go into")).to_have_value(box.tag)
    expect(phone.locator("[data-camera-said]")).to_contain_text("Nothing carries")
    expect(phone.get_by_label("tags seen")).to_have_value(hinge.tag)
    phone.get_by_role("button", name="Put them there").click()
    expect(phone.get_by_role("status").filter(has_text="now in box 4")).to_be_visible()
    hinge.refresh_from_db()
    assert hinge.place == "box 4"
