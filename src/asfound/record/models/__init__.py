"""The record's models, one noun a file."""

from asfound.record.models.arrival import Arrival
from asfound.record.models.assembly_template import AssemblyTemplate
from asfound.record.models.brief import Brief
from asfound.record.models.car import Car
from asfound.record.models.car_row import CarRow
from asfound.record.models.decision import Decision
from asfound.record.models.dossier import Dossier
from asfound.record.models.entry import Entry
from asfound.record.models.file_match import FileMatch
from asfound.record.models.film_band import FilmBand
from asfound.record.models.film_base import FilmBuild
from asfound.record.models.film_reading import FilmReading
from asfound.record.models.finding_kind import FindingKind
from asfound.record.models.invitation import Invitation
from asfound.record.models.kept_file import KeptFile
from asfound.record.models.kept_sheet import KeptSheet
from asfound.record.models.money_settings import MoneySettings
from asfound.record.models.observation import Observation
from asfound.record.models.option import Option
from asfound.record.models.option_link import OptionLink
from asfound.record.models.panel import Panel
from asfound.record.models.part import Part
from asfound.record.models.person import Person
from asfound.record.models.photo import Photo
from asfound.record.models.place import Place
from asfound.record.models.proposal import Answer, Proposal, Signature
from asfound.record.models.release import Release
from asfound.record.models.salvage_piece import (
    SalvagePhoto,
    SalvagePiece,
    SalvageRow,
    SalvageUse,
)
from asfound.record.models.shim_reading import ShimReading
from asfound.record.models.shop_plan import PlanAddress, ShopCar, ShopPlan
from asfound.record.models.subject import Subject
from asfound.record.models.tablet import Tablet
from asfound.record.models.variant import Variant
from asfound.record.models.workshop import Workshop

__all__ = [
    "Answer",
    "Arrival",
    "AssemblyTemplate",
    "Brief",
    "Car",
    "CarRow",
    "Decision",
    "Dossier",
    "Entry",
    "FileMatch",
    "FilmBand",
    "FilmBuild",
    "FilmReading",
    "FindingKind",
    "Invitation",
    "KeptFile",
    "KeptSheet",
    "MoneySettings",
    "Observation",
    "Option",
    "OptionLink",
    "Panel",
    "Part",
    "Person",
    "Photo",
    "Place",
    "PlanAddress",
    "Proposal",
    "Release",
    "SalvagePhoto",
    "SalvagePiece",
    "SalvageRow",
    "SalvageUse",
    "ShimReading",
    "ShopCar",
    "ShopPlan",
    "Signature",
    "Subject",
    "Tablet",
    "Variant",
    "Workshop",
]
