"""What each action of the log is in plain words, for people who read the log of a car."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_DONE: Mapping[str, str] = {
    "create account": "Made an account",
    "set password": "Set a password",
    "grant owner": "Opened the car to an owner",
    "close car to owner": "Closed the car to an owner",
    "withdraw access": "Took somebody's access away",
    "restore access": "Gave somebody's access back",
    "change role": "Gave somebody another role",
    "invite": "Invited somebody",
    "withdraw invitation": "Took an invitation back",
    "accept invitation": "Took up an invitation",
    "set PIN": "Set a PIN",
    "clear PIN": "Took a PIN away",
    "close PIN": "Closed a PIN after wrong ones",
    "add tablet": "Added a shared tablet",
    "withdraw tablet": "Shut a shared tablet out",
    "load car": "Read the car in",
    "load car again": "Read the car in again",
    "remember file": "Kept how a kind of file is read",
    "remember file anew": "Changed how a kind of file is read",
    "forget file": "Forgot how a kind of file is read",
    "draw sheet": "Drew the sheet of panels",
    "redraw sheet": "Drew the sheet of panels again",
    "add panel": "Added a panel",
    "move outline": "Moved the outline of a panel",
    "replace outline": "Drew the outline of a panel anew",
    "import film readings": "Added film readings",
    "correct film reading": "Corrected a film reading",
    "withdraw film reading": "Withdrew a film reading",
    "restore film reading": "Let a withdrawn film reading count again",
    "add film band": "Added a published band of film",
    "correct film band": "Corrected a published band of film",
    "withdraw film band": "Withdrew a published band of film",
    "give film level to base": "Gave the car's film to what is expected of later cars",
    "withdraw film level": "Took the car's film out of what is expected of later cars",
    "use film band as evidence": "Took a film reading into the evidence",
    "take film band evidence back": "Took a film reading out of the evidence",
    "add kind of finding": "Added a kind of finding",
    "withdraw kind of finding": "Withdrew a kind of finding",
    "keep photograph": "Kept a photograph",
    "change photograph": "Changed what stands beside a photograph",
    "withdraw photograph": "Withdrew a photograph",
    "restore photograph": "Showed a withdrawn photograph again",
    "add parts": "Added parts",
    "change part": "Changed a part",
    "split part": "Split a part",
    "merged part": "Joined parts into one",
    "replaced part": "Replaced a part",
    "withdrawn part": "Withdrew a part",
    "restore part": "Took back what became of a part",
    "take move back": "Took a move back",
    "give tags": "Gave tags to parts",
    "came off": "Wrote down that a part came off",
    "take coming off back": "Took back that a part came off",
    "on again": "Wrote down that a part is on again",
    "take being on again back": "Took back that a part is on again",
    "make template": "Kept an assembly for other cars",
    "use template": "Took an assembly over from another car",
    "withdraw template": "Withdrew an assembly for other cars",
    "restore template": "Offered a withdrawn assembly again",
    "add place": "Added a place",
    "move place": "Moved a place",
    "withdraw place": "Withdrew a place",
    "restore place": "Let a withdrawn place be used again",
    "stock-take": "Counted what lies in a place",
    "add salvage piece": "Added a piece to the salvage store",
    "correct salvage piece": "Corrected a piece of the salvage store",
    "withdraw salvage piece": "Withdrew a piece of the salvage store",
    "restore salvage piece": "Took a withdrawn salvage piece back into the store",
    "reserve salvage piece": "Reserved a salvage piece",
    "use salvage piece": "Used a salvage piece",
    "give salvage piece back": "Gave a salvage piece back to the store",
    "restore salvage use": "Took up a salvage piece again that was given back",
    "keep salvage photograph": "Kept a photograph of a salvage piece",
    "withdraw salvage photograph": "Withdrew a photograph of a salvage piece",
    "restore salvage photograph": "Showed a withdrawn photograph of a salvage piece again",
    "set brief": "Wrote the owner's brief",
    "set weight": "Wrote how much a piece weighs in the choice",
    "set piece on the car": "Said where on the car a piece is",
    "set options": "Wrote the options of a piece",
    "add options": "Added options",
    "lock option": "Decided on an option",
    "release lock": "Took a decision back",
    "restore lock": "Took a withdrawn decision up again",
    "keep variant": "Kept a variant",
    "withdraw variant": "Withdrew a variant",
    "send proposal": "Sent a proposal to the owner",
    "withdraw proposal": "Withdrew a proposal",
    "answer proposal": "Answered a proposal",
    "sign proposal": "Signed a proposal",
    "release room": "Opened a page to the owner",
    "withdraw release": "Closed a page to the owner",
    "keep dossier": "Made a dossier",
    "adopt plan": "Adopted a plan of the workshop",
    "setback": "Wrote down a setback",
    "set car in shop": "Wrote the car's place in the workshop's plan",
    "make plan address": "Made an address of the plan",
    "withdraw plan address": "Closed an address of the plan",
    "set money": "Wrote how the workshop counts money",
    "set currency": "Wrote the currency of the car",
    "set the workshop's treatments": "Wrote what treatments take in the workshop",
    "set the workshop's people": "Wrote the workshop's people and their hours",
    "set the workshop's bays": "Wrote the workshop's bays",
    "set the workshop's closed_days": "Wrote the days on which nobody works in the workshop",
}

_SET: Mapping[str, str] = {
    "instruments": "the instruments",
    "sheet_nominals": "what the sheet was when new",
    "climates": "where the car stood",
    "neighbours": "which panels meet",
    "colour_thresholds": "how large a difference of colour is",
    "polish_floors": "how thin the film may become",
    "edges": "the edges and their gaps",
    "weighing": "how evidence is weighed",
    "number_weights": "what the check of numbers weighs",
    "state_rules": "when a piece is original, period or later",
    "priors": "the declared priors",
    "preservation_classes": "the classes from identity documents",
    "treatment_rates": "what treatments take",
    "piece_sizes": "the kinds and sizes of pieces",
    "as_left": "what was left of pieces after work",
    "safety_tests": "the tests of what lives hang on",
    "criteria": "the criteria of significance",
    "significance": "why pieces matter",
    "events": "the events of the history",
    "event_links": "what ties events",
    "tasks": "the tasks",
    "task_links": "which task waits for which",
    "people": "the people and their hours",
    "bays": "the bays",
    "closed_days": "the days on which nobody works",
    "joints": "what comes off after what",
    "removals": "how pieces come off",
    "rebuild_links": "what the rebuild asks for",
    "evidence": "the evidence",
    "identifiers": "the numbers as read",
    "odometer": "the odometer readings",
    "wear": "the wear",
    "charge_rates": "what an hour is charged at",
    "tax_rates": "the rates of tax",
    "material_prices": "the prices of material",
}
"""Tables that are written as a whole."""

_OBSERVED: Mapping[str, tuple[str, str, str, str]] = {
    "metal": (
        "metal readings",
        "metal reading",
        "readings of sheet metal",
        "a reading of sheet metal",
    ),
    "colour": ("colour readings", "colour reading", "readings of colour", "a reading of colour"),
    "polish": (
        "polish readings",
        "polish reading",
        "readings of polishing",
        "a reading of polishing",
    ),
    "gaps": ("gaps readings", "gaps reading", "readings of gaps", "a reading of a gap"),
    "moves": ("moves readings", "moves reading", "moves of parts", "a move of a part"),
    "errands": ("errands readings", "errands reading", "errands of parts", "an errand of a part"),
    "needs": ("needs readings", "needs reading", "pieces looked for", "a piece looked for"),
    "findings": ("findings", "finding", "findings", "a finding"),
    "worked": ("time worked", "time worked", "time worked", "a stretch of work"),
    "materials_used": ("materials used", "material used", "material used", "a material used"),
    "results": ("results", "result", "results of work", "a result of work"),
    "purchases": ("purchases", "purchase", "what was bought", "a purchase"),
    "payments": ("payments", "payment", "payments", "a payment"),
    "dissents": ("dissent", "dissent", "dissents from decisions", "a dissent from a decision"),
    "holds": ("holds", "hold", "holds of work", "a hold of work"),
}
"""Observed tables: the log's name of several rows, of one, and both in people's words."""


def _observed() -> dict[str, str]:
    done: dict[str, str] = {}
    for table, (many, one, several, single) in _OBSERVED.items():
        done |= {
            f"add {many}": f"Added {several}",
            f"correct {one}": f"Corrected {single}",
            f"withdraw {one}": f"Withdrew {single}",
            f"restore {table} reading": f"Let {single} count again that was withdrawn",
        }
    return done


WORDS: Mapping[str, str] = MappingProxyType(
    {**_DONE, **{f"set {table}": f"Wrote {words}" for table, words in _SET.items()}, **_observed()}
)
"""Words by the action as the log's lines bear it; a line's own name is never changed."""


def in_words(action: str) -> str:
    """What was done, in plain words; an action of an older program by its own name.

    Examples
    --------
    >>> in_words("set tasks")
    'Wrote the tasks'
    """
    return WORDS.get(action, action.replace("_", " "))
