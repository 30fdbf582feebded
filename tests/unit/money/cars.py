"""A small car with rates, two documents, an invoice in part, work and a payment."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from asfound.record.folder import CarFolder, Sheet

NOW = datetime(2024, 5, 2, 12, tzinfo=UTC)


def sheet(head: str, *rows: str) -> Sheet:
    return Sheet(columns=tuple(head.split(",")), rows=tuple(tuple(row.split(",")) for row in rows))


PURCHASES = "kind,supplier,number,dated,subject,net,tax_percent,trade,total,follows,last"
CAR = CarFolder(
    sheets={
        "car": sheet("marque,model,body_style,built,currency", "Orrin,Six,saloon,1958,EUR"),
        "options": sheet(
            "subject,option,treatment,kept,grade,cost,hours_trimmer,hours_painter",
            "seats,re-sew,repair,0.9,3,200,10,",
            "wing,touch in,reintegrate,0.8,3,150,,20",
            "grille,plate,refinish,0.5,5,600,,",
        ),
        "subjects": sheet(
            "subject,weight,min_grade,locked_option",
            "seats,3,,re-sew",
            "wing,3,,touch in",
            "grille,1,,",
        ),
        "tasks": sheet(
            "task,name,trade,hours_low,hours_likely,hours_high,people,subject",
            "S1,Re-sew the seats,trimmer,4,6,12,2.0,seats",
        ),
        "worked": sheet(
            "task,subject,person,from_at,to_at,done",
            "S1,seats,Issy,2024-04-01T08:00:00Z,2024-04-01T12:00:00Z,",
            "S1,seats,Lowri,2024-04-02T08:00:00Z,2024-04-02T11:00:00Z,",
        ),
        "people": sheet("person,trades,hours_per_day", "Issy,trimmer,8", "Lowri,trimmer,8"),
        "charge_rates": sheet(
            "trade,rate,person,from_on",
            "trimmer,50,,",
            "trimmer,60,,2024-04-15",
            "trimmer,30,Lowri,",
            "painter,40,,",
        ),
        "tax_rates": sheet(
            "name,percent,from_on,until_on,charged",
            "standard,20,2020-01-01,2024-04-01,yes",
            "standard,25,2024-04-02,,yes",
        ),
        "purchases": sheet(
            PURCHASES,
            "order,Trim House,O-1,2024-03-01,seats,120,20,trimmer,,,",
            "invoice,Trim House,I-9,2024-04-03,seats,80,25,trimmer,100.00,O-1,",
            "quote,Paint Barn,Q-2,2024-03-05,wing,500,20,painter,,,",
        ),
        "payments": sheet("paid_on,kind,amount", "2024-03-01,advance,300", "2024-04-20,refund,50"),
    }
)
"""Invented, as everything in it."""


def with_sheet(name: str, table: Sheet) -> CarFolder:
    return replace(CAR, sheets={**CAR.sheets, name: table})
