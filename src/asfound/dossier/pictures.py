"""A drawing as a file: SVG becomes PNG or PDF through the setter of the dossier."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import typst

_PAGE = """#set page(width: auto, height: auto, margin: 10pt, fill: white)
#image("drawing-0.svg")
"""
_SHEETS = """#set page(width: 420mm, height: 297mm, margin: (x: 12mm, top: 18mm, bottom: 12mm))
#set text(size: 11pt)
#let sheet(title, drawing) = page(
  header: grid(columns: (1fr, auto), title,
    context [#counter(page).display() of #counter(page).final().first()]),
  layout(size => {
    let wide = image(drawing, width: size.width)
    if measure(wide).height > size.height { image(drawing, height: size.height) } else { wide }
  }))
#for (place, title) in json("titles.json").enumerate() {
  sheet(title, "drawing-" + str(place) + ".svg")
}
"""
_RAILS = r"""#let titles = json("titles.json")
#set page(width: 420mm, height: 297mm, margin: (x: 12mm, top: 18mm, bottom: 16mm),
  header: grid(columns: (1fr, auto), titles.first(),
    context [#counter(page).display() of #counter(page).final().first()]),
  footer: [Full dot: can come off now. (2): two people. !: take care; the car's page says of what.])
#set text(size: 11pt)
#let drawn(place, title) = layout(size => {
  let wide = image("drawing-" + str(place) + ".svg", width: 100%)
  let most = 250mm
  let fits = measure(wide, width: size.width).height <= most
  block(breakable: false, below: 9mm, [*#title* \ #if fits { wide } else {
    image("drawing-" + str(place) + ".svg", height: most) }])
})
#set page(columns: 4)
#place(top + left, scope: "parent", float: true, clearance: 9mm, layout(size => {
  let half = image("drawing-0.svg", width: 50%)
  if measure(half, width: size.width).height <= size.height { half } else {
    image("drawing-0.svg", width: 100%, height: 100%, fit: "contain")
  }
}))
#for (place, title) in titles.slice(1).enumerate() { drawn(place + 1, title) }
"""
PNG_PPI = 144.0
_HEAD = re.compile(r'<svg[^>]* viewBox="([^"]+)"[^>]*>(?:<title>[^<]*</title>)?')
SHEET_RATIO = (297 - 30) / (420 - 24)
"""Height over width of what a sheet of A3 takes."""


def on_paper(svg: str) -> str:
    """Drawing to keep, on a ground of its own: a viewer may show it on black.

    Examples
    --------
    >>> on_paper('<svg viewBox="0 -4 9 9"><path/></svg>')
    '<svg viewBox="0 -4 9 9"><rect x="0" y="-4" width="9" height="9" fill="#fff"/><path/></svg>'
    """
    head = _HEAD.match(svg)
    if head is None:
        return svg
    sides = zip(("x", "y", "width", "height"), head[1].split(), strict=True)
    told = " ".join(f'{name}="{side}"' for name, side in sides)
    return f'{head[0]}<rect {told} fill="#fff"/>{svg[head.end() :]}'


def svg_as(svg: str, form: Literal["png", "pdf"]) -> bytes:
    """Drawing in its own size, one SVG unit a point; PNG at two dots a unit."""
    return _set([svg], _PAGE, form)


def sheets_as_pdf(sheets: Sequence[tuple[str, str]]) -> bytes:
    """PDF of titles and drawings in SVG, each as large as may be on a sheet of A3 (ISO 216)."""
    titles = [title for title, _ in sheets]
    return _set([drawing for _, drawing in sheets], _SHEETS, "pdf", titles=titles)


def rails_as_pdf(title: str, overview: str, rails: Sequence[tuple[str, str]]) -> bytes:
    """PDF of a drawing, then narrow ones with their titles, in columns on sheets of A3."""
    titles = [title, *(name[:1].upper() + name[1:] for name, _ in rails)]
    return _set([overview, *(svg for _, svg in rails)], _RAILS, "pdf", titles=titles)


def _set(
    drawings: Sequence[str], page: str, form: Literal["png", "pdf"], *, titles: Sequence[str] = ()
) -> bytes:
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        root = Path(scratch)
        for place, svg in enumerate(drawings):
            (root / f"drawing-{place}.svg").write_text(svg, encoding="utf-8")
        (root / "titles.json").write_text(json.dumps(titles), encoding="utf-8")
        (root / "page.typ").write_text(page, encoding="utf-8")
        made = typst.compile(
            root / "page.typ", root=root, format=form, ppi=PNG_PPI, ignore_system_fonts=True
        )
    assert isinstance(made, bytes), "a picture has one page"
    return made
