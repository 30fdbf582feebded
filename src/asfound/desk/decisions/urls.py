"""Addresses of the decisions over a car."""

from django.urls import path, re_path

from asfound.desk.decisions import (
    brief,
    dissent,
    holding,
    ledger,
    locking,
    options,
    piece,
    proposal,
    proposing,
    significance,
    turning,
    variants,
    views,
)

urlpatterns = [
    path("", views.decisions, name="decisions"),
    path("choice/", views.choice, name="choice"),
    path("brief/", brief.edit_brief, name="edit-brief"),
    path("options/", options.offered, name="offered-options"),
    path("ledger/", ledger.ledger, name="ledger-steps"),
    path("significance/", significance.significance, name="significance"),
    path("significance/criteria/", significance.own_criteria, name="own-criteria"),
    path("holding/", holding.holding, name="holding"),
    path("variants/", variants.variants, name="variants"),
    path("variants/<int:pk>/", variants.variant, name="variant"),
    path("variants/<int:pk>/withdraw/", variants.withdraw, name="withdraw-variant"),
    path("proposals/", proposing.proposals, name="proposals"),
    path("proposals/new/", proposing.new_proposal, name="new-proposal"),
    path("proposals/<int:number>/", proposal.proposal, name="proposal"),
    path("proposals/<int:number>/answer/", proposal.answer, name="answer-proposal"),
    path("proposals/<int:number>/sign/", proposal.sign, name="sign-proposal"),
    path("proposals/<int:number>/withdraw/", proposal.withdraw, name="withdraw-proposal"),
    path(
        "proposals/<int:number>/pictures/<str:sha256>.jpg",
        proposal.picture,
        name="proposal-picture",
    ),
    re_path(
        r"^proposals/(?P<number>[0-9]{1,9})/(?P<which>sent|signed)\.pdf$",
        proposal.document,
        name="proposal-document",
    ),
    path("pieces/<path:subject>/lock/", locking.lock, name="lock"),
    path("pieces/<path:subject>/release/", locking.release, name="release"),
    path("pieces/<path:subject>/dissent/", dissent.dissent, name="dissent"),
    path("dissents/<int:pk>/withdraw/", dissent.withdraw, name="withdraw-dissent"),
    path("pieces/<path:subject>/options/", options.edit_options, name="edit-options"),
    path("pieces/<path:subject>/significance/", significance.grade_piece, name="grade-piece"),
    path("pieces/<path:subject>/why/", piece.why, name="piece-why"),
    path("pieces/<path:subject>/turns/", turning.turns, name="piece-turns"),
    path("pieces/<path:subject>/", piece.piece, name="piece"),
]
