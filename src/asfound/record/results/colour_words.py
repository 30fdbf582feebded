"""What the colour of a panel says, in words; and the film beside it, where both were read."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.measure.colour import CarColour, ColourDifference, ColourThreshold, Fade, joined_lr
from asfound.measure.film import FilmReading
from asfound.weigh import weight_in_words

ASSUMPTION = (
    "Taken together as a product, which holds if thickness and colour are independent given what "
    "was done to the panel; one cause that moves both, such as a hard polish, would count twice."
)
DISAGREE = (
    "The sources of the thresholds come from different trades and disagree; the program judges by "
    "none of them."
)
_LAST_BAND = 1e6
_MILLION = "1\N{NARROW NO-BREAK SPACE}000\N{NARROW NO-BREAK SPACE}000"


@dataclass(frozen=True, slots=True, kw_only=True)
class BothSigns:
    """Film and colour of one panel and their product, as likelihood ratios for later work.

    ``joint_lr`` is ``None`` where colour is left aside, and ``why_not`` says why.
    """

    panel: str
    film_lr: float
    colour_lr: float
    joint_lr: float | None
    why_not: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What one source says of a difference: its band, or that the difference is beyond them."""

    says: str
    threshold: ColourThreshold
    is_within: bool


def both_signs(film: FilmReading, colour: CarColour) -> tuple[BothSigns, ...]:
    """Panels on which film and colour both spoke, in the order of the film's reading.

    A colour that the panel's own fade may explain is not multiplied.
    """
    found = []
    for panel in film.panels:
        sign = colour.sign_of(panel.panel)
        if sign is None or not panel.spots_n:
            continue
        lr = sign.sign.lr_later_work
        sunny = sign.sun_may_explain and weight_in_words(lr).favours == "statement"
        joint = None if sunny else joined_lr(film_lr=panel.lr_later_work, colour_lr=lr)
        found.append(
            BothSigns(
                panel=panel.panel,
                film_lr=panel.lr_later_work,
                colour_lr=lr,
                joint_lr=joint,
                why_not="its own fade may explain the colour" if sunny else "",
            )
        )
    return tuple(found)


def lr_words(lr: float) -> str:
    """Support that a ratio gives, for later work or for undisturbed; never more than that."""
    weight = weight_in_words(lr)
    if weight.favours == "neither":
        return "neither for nor against later work"
    said = "later work" if weight.favours == "statement" else "undisturbed since built"
    return f"{weight.degree} support for {said}"


def both_words(signs: BothSigns) -> str:
    """Film, colour and both together, as one sentence without its stop."""
    told = (
        f"film {lr_figure(signs.film_lr)} ({lr_words(signs.film_lr)}), "
        f"colour {lr_figure(signs.colour_lr)} ({lr_words(signs.colour_lr)})"
    )
    if signs.joint_lr is None:
        return f"{told}; not taken together: {signs.why_not}"
    return f"{told}; together {lr_figure(signs.joint_lr)}: {lr_words(signs.joint_lr)}"


def lr_figure(lr: float) -> str:
    """Ratio to two digits; below one as a fraction; none beyond the last band of the scale.

    Examples
    --------
    >>> lr_figure(1234.0), lr_figure(0.004)
    ('1200', '1/250')
    """
    ratio = max(lr, 1 / lr)
    if ratio > _LAST_BAND:
        return f"over {_MILLION}" if lr > 1 else f"under 1/{_MILLION}"
    figure = f"{float(f'{ratio:.2g}'):,.{0 if ratio >= 9.95 else 1}f}"
    figure = figure.replace(",", "\N{NARROW NO-BREAK SPACE}" if ratio >= 1e4 else "")
    figure = figure.removesuffix(".0")
    return figure if lr >= 1 or figure == "1" else f"1/{figure}"


def fade_words(fade: Fade) -> str:
    """How the exposed place differs from the hidden one, by what is told apart from none."""
    if not fade.told_apart:
        return "no difference told"
    change = fade.change
    pairs = (
        (change.delta_l, "lighter", "darker"),
        (change.delta_c, "stronger in colour", "weaker in colour"),
        (change.delta_h, "shifted in hue", "shifted in hue"),
    )
    coverage = 1 - 0.05 / len(pairs)
    told = [
        more if delta.value > 0 else less
        for delta, more, less in pairs
        if abs(delta.value) > delta.expanded(coverage=coverage)
    ]
    return f"exposed is {', '.join(told)}"


def judged(change: ColourDifference, thresholds: tuple[ColourThreshold, ...]) -> tuple[Judged, ...]:
    """What each source says of a difference, in the distance that it means.

    A source that does not state its distance is read with ΔE00, and says so by its ``measure``.
    """
    families: dict[tuple[str, str, str], list[ColourThreshold]] = {}
    for row in thresholds:
        families.setdefault((row.measure, row.field, row.source), []).append(row)
    return tuple(_judged(change, rows) for rows in families.values())


def _judged(change: ColourDifference, rows: list[ColourThreshold]) -> Judged:
    distance = change.delta_e76 if rows[0].measure == "ΔE76" else change.delta_e00
    for row in rows:
        if row.over < distance.value <= row.up_to or distance.value == row.over == 0:
            return Judged(says=row.meaning, threshold=row, is_within=True)
    last = max(rows, key=lambda row: row.up_to)
    if distance.value > last.up_to:
        return Judged(says=f"more than {last.meaning}", threshold=last, is_within=False)
    return Judged(says="between the bands", threshold=last, is_within=False)
