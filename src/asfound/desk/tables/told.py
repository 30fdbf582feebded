"""What each small table is for, in the words of the person who fills it in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Title of a table, what it is for, and what stands where nothing is written."""

    title: str
    what: str
    without: str = ""


TOLD: Mapping[str, Told] = MappingProxyType(
    {
        "instruments": Told(
            title="Instruments",
            what="How far each instrument may be trusted: its standard uncertainty u, in the unit "
            "it reads in, and where that figure comes from (certificate, own trial, handbook).",
            without="An instrument without a row is given an assumed uncertainty, and the result "
            "says so.",
        ),
        "sheet_nominals": Told(
            title="Sheet when new",
            what="What each panel or part was made of: a gauge number with its system, since 20 is "
            "another thickness in SWG than in MSG, or millimetres. The least thickness that must "
            "stay is a decision; whoever answers for the car's safety takes it.",
            without="A panel without a row is held against the nominal thickness of its outline, "
            "if that has one.",
        ),
        "climates": Told(
            title="Where the car stood",
            what="In which air the car stood from when to when, by the categories C1 to CX of "
            "ISO 9223. It tells what bare steel would have lost there.",
        ),
        "neighbours": Told(
            title="Panels that meet",
            what="Which panels meet at a seam, so that their colours are compared across it.",
        ),
        "colour_thresholds": Told(
            title="How large a difference of colour is",
            what="Bands of a colour difference with what each means and who says so.",
        ),
        "polish_floors": Told(
            title="How thin the film may become",
            what="The least film that must stay on a panel or an area of it, and on what that "
            "figure rests.",
            without="Without a floor nothing is said about what may still come off.",
        ),
        "treatment_rates": Told(
            title="What treatments take",
            what="For each kind of piece the ways to treat it: hours by trade and material for one "
            "piece, metre or square metre; what is kept, the finish reached, and where the "
            "figures come from.",
            without="A row of a car stands instead of the workshop's of the same kind, option and "
            "unit; a car takes over the rows that its options were made from.",
        ),
        "piece_sizes": Told(
            title="Kinds and sizes of pieces",
            what="Of which kind each piece is, and how large: count, metres or square metres.",
            without="Where a panel has an outline and no size is written, its area is taken.",
        ),
        "as_left": Told(
            title="As left",
            what="When work on a piece was finished, and the share of its fabric that is still "
            "there, looked at afterwards.",
            without="A piece without a row still counts as it was found.",
        ),
        "safety_tests": Told(
            title="Tests of what lives hang on",
            what="Brakes, steering, fuel, tyres, seat belts, lifting eyes and wiring: what was "
            "tested, by whom, on which day, and whether it passed. The last test counts.",
            without="Such a piece cannot be sent to the owner as left as found without a passed "
            "test. A test here is no official inspection; local rules and licensed practice stand.",
        ),
        "criteria": Told(
            title="Criteria of significance",
            what="For which reasons a piece of this car may matter, and how much each counts "
            "beside the others. A weight of 0 leaves a prompt that counts nothing.",
            without="Without a row the criteria supplied hold, after Significance 2.0, with one "
            "weight each; those weights are our own, no source.",
        ),
        "significance": Told(
            title="Why pieces matter",
            what="Each piece by one criterion: the grade in words, why, and who says so. A weight "
            "that was typed by hand goes before what these make.",
            without="A piece without a row and without a typed weight weighs 1.",
        ),
        "edges": Told(
            title="Edges and their gaps",
            what="The edges along which gap and flush are read, between which panels they run, "
            "and which edge is their twin on the other side of the car.",
        ),
        "evidence": Told(
            title="Evidence",
            what="What speaks for and against a statement on a part or a panel: how many times "
            "more probable the item is if the statement holds than if its alternative does. Items "
            "with one cause are never multiplied.",
        ),
        "identifiers": Told(
            title="Numbers as read",
            what="Every mark of the car as it was read, and what a source leads one to expect. "
            "Write ? for a character that cannot be read, and “not found” for a mark that was "
            "looked for and is not there.",
        ),
        "odometer": Told(
            title="Odometer readings",
            what="Dated readings with their unit and source. Digits are the whole digits of the "
            "dial; another name of the instrument says that it was changed.",
        ),
        "wear": Told(
            title="Wear",
            what="Wear of a part as measured, its uncertainty, and the range of rates that such "
            "parts wear at, with the source of the range.",
        ),
        "tasks": Told(
            title="Tasks",
            what="Each piece of work with its trade and three hours, low, likely and high, for its "
            "people at it together; the bay that it holds; the day before which it cannot start, "
            "and the day by whose end it must be done.",
        ),
        "task_links": Told(
            title="What waits for what",
            what="Which task starts when which has ended, and the hours by the clock between "
            "them, such as for drying. They are nobody's work.",
        ),
        "people": Told(
            title="People and their hours",
            what="Trades with ; between them, hours of a working day, the working days (Mon–Fri if "
            "empty), and absences as days or intervals with ; between them, such as "
            "2026-05-04/2026-05-08. The name that somebody signs in with leads to their cards.",
            without="Without a row here, a car's plan takes the people of the workshop.",
        ),
        "bays": Told(
            title="Bays",
            what="How many places there are of each kind of bay, and the days on which one of them "
            "cannot be used.",
            without="Without a row here, a car's plan takes the bays of the workshop; where that "
            "lists none either, each bay that a task names has one place.",
        ),
        "closed_days": Told(
            title="Days on which nobody works",
            what="Days or intervals, with ; between several, on which the workshop is closed.",
            without="Without a row here, a car's plan takes those of the workshop.",
        ),
        "joints": Told(
            title="What comes off after what",
            what="Each time a piece came off after another that held or hid it. Where there are "
            "several ways to a piece, rows with the same way belong together.",
        ),
        "removals": Told(
            title="How pieces come off",
            what="How fragile a piece is (0, a casting, to 5, falls apart when touched), its hours "
            "and people, whether its fixings are used once, and the bench where it is made up.",
        ),
        "rebuild_links": Told(
            title="What the rebuild asks for",
            what="What must be on before what goes on, for fluids, alignment, a seal, a fixing or "
            "access, where that is not simply the other way round.",
        ),
        "weighing": Told(
            title="How evidence is weighed",
            what="The most that a ratio judged by eye may count, and the inverse of the least.",
            without="Without a row the cap is 100.",
        ),
        "number_weights": Told(
            title="What the numbers check weighs",
            what="How many times more probable each verdict on a number is if the part was fitted "
            "when the car was built than if it was fitted later. A workshop that knows its marque "
            "knows better than the figures supplied.",
            without="Verdicts without a row weigh as supplied; those figures are guesses.",
        ),
        "state_rules": Told(
            title="When a piece is original, period or later",
            what="The rules that give every piece its state, by order; the first that holds "
            "decides. A statement that has at least so much support on one side puts the piece "
            "into a state: O original and in place, P period, L later, R reproduction, "
            "U undetermined, M missing. “as written” in the place of a statement takes what a "
            "person wrote of the part.",
            without="Without a row the rules supplied hold: moderate support decides, and what "
            "has less is not known.",
        ),
        "priors": Told(
            title="Declared priors",
            what="How probable a statement is before the evidence, and why you say so. It stands "
            "beside the usual three, never in their place.",
        ),
        "events": Told(
            title="Events of the history",
            what="What happened to the car or a piece of it, and between which days: not before, "
            "not after, as EDTF (1961, 1961-05, 1961~ about, 1958/1963, ../1970). An empty date "
            "claims nothing. A statement that is doubted or withdrawn stays and does not count.",
        ),
        "event_links": Told(
            title="What ties events",
            what="From one event to another at least min and at most max, in days, months or "
            "years; empty is without bound. A coat, a film or a glue over another is min 0 from "
            "the lower to the upper; a limited life has both.",
        ),
        "charge_rates": Told(
            title="What an hour is charged at",
            what="By trade, without tax, in the car's currency; a person may have a rate of their "
            "own. A rate holds from its day until another of the same trade does. What an hour "
            "costs the workshop is never written here.",
            without="Hours of a trade without a rate count for nothing, and the account says so.",
        ),
        "tax_rates": Told(
            title="Rates of tax",
            what="Every rate that stands on documents or is charged, in per cent, with the days "
            "between which it holds. The one marked as charged is what the owner pays on the "
            "workshop's own work.",
            without="Without a rate that is marked as charged the account is without tax.",
        ),
        "material_prices": Told(
            title="Prices of material",
            what="What the owner is charged for a unit of the workshop's own material, without "
            "tax, in the unit that the cards write. Material that came on an invoice of this car "
            "needs no price: it would count twice.",
        ),
        "preservation_classes": Told(
            title="Classes from identity documents",
            what="A class as a document gives it, with the edition of the code it comes from: the "
            "letters and figures changed their meaning from one edition to the next.",
        ),
    }
)


def told(table: str) -> Told:
    """Words about a table; its own name where nobody wrote any."""
    return TOLD.get(table, Told(title=table.replace("_", " ").capitalize(), what=""))
