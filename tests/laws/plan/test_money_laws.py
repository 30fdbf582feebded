"""Laws of the account: sums agree however they are grouped, and nothing is counted twice."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from asfound.plan.money import (
    BY,
    Document,
    DocumentLine,
    Kind,
    Measure,
    Planned,
    TaxedAmount,
    Used,
    Work,
    rounded,
    standings,
    state_account,
    tax_totals,
)

PIECES, TRADES = st.sampled_from(["seats", "wing", "car"]), st.sampled_from(["", "painter"])
amounts = st.integers(0, 10**7).map(lambda cents: Decimal(cents) / 100)
costs = st.integers(1, 10**7).map(lambda cents: Decimal(cents) / 100)
hours = st.integers(0, 4000).map(lambda quarters: Decimal(quarters) / 4)
percents = st.sampled_from([Decimal(0), Decimal("5.5"), Decimal(20)])
lines = st.builds(
    lambda net, more, percent, piece, trade, change: DocumentLine(
        net=net, charged=net + more, percent=percent, piece=piece, trade=trade, change=change
    ),
    costs,
    amounts,
    percents,
    PIECES,
    TRADES,
    st.sampled_from(["", "2"]),
)
stretches = st.tuples(hours, amounts, percents, st.none() | amounts)
works = st.builds(
    Work,
    piece=PIECES,
    trade=TRADES,
    hours=hours,
    rate=amounts,
    worked=st.lists(stretches, max_size=3).map(tuple),
    is_done=st.booleans(),
)
planned = st.builds(Planned, piece=PIECES, amount=amounts)
used = st.builds(Used, piece=PIECES, amount=amounts, percent=percents, trade=TRADES)


@st.composite
def documents(draw: st.DrawFn) -> list[Document]:
    """Orders and quotes, and invoices of which some follow them."""
    made = []
    for number in range(draw(st.integers(0, 5))):
        before = [one.number for one in made]
        made.append(
            Document(
                kind=draw(st.sampled_from(list(Kind))),
                supplier="A",
                number=str(number),
                follows=draw(st.sampled_from(["", *before])),
                is_last=draw(st.booleans()),
                lines=tuple(draw(st.lists(lines, min_size=1, max_size=3))),
            )
        )
    return made


accounts = st.builds(
    lambda works, planned, used, documents, finished, percent, digits: state_account(
        works=works,
        planned=planned,
        used=used,
        documents=documents,
        finished=finished,
        percent=percent,
        digits=digits,
    ),
    st.lists(works, max_size=4),
    st.lists(planned, max_size=3),
    st.lists(used, max_size=3),
    documents(),
    st.sets(PIECES, max_size=1),
    percents,
    st.sampled_from([0, 2, 3]),
)


@given(accounts)
def test_sums_are_the_same_by_piece_trade_supplier_and_change_order(account) -> None:
    for by in BY:
        sums = account.sums(by).values()
        for measure in Measure:
            told = sum((getattr(one, measure.value) for one in sums), Decimal(0))
            assert told == getattr(account.total, measure.value)


@given(accounts)
def test_amounts_are_whole_minor_units(account) -> None:
    unit = Decimal(1).scaleb(-account.digits)
    assert all(entry.amount % unit == 0 for entry in account.entries)


@given(documents())
def test_an_order_is_never_committed_and_actual_at_once(told: list[Document]) -> None:
    for one in standings(told):
        invoices = [d for d in told if d.follows == one.document.number and d.kind is Kind.INVOICE]
        open_net = sum(one.open_net.values(), Decimal(0))
        if one.document.kind is not Kind.ORDER or any(d.is_last for d in invoices):
            assert open_net == 0
        else:
            invoiced = sum((d.net for d in invoices), Decimal(0))
            assert open_net == max(one.document.net - invoiced, Decimal(0))


@given(documents(), lines)
def test_a_quote_nobody_ordered_changes_no_sum(told: list[Document], line: DocumentLine) -> None:
    quote = Document(kind=Kind.QUOTE, supplier="B", number="q", lines=(line,))
    before = state_account(documents=told, digits=2)
    assert state_account(documents=[*told, quote], digits=2).entries == before.entries


@given(documents(), lines)
def test_invoicing_an_order_whole_leaves_the_forecast_as_it_was(
    told: list[Document], line: DocumentLine
) -> None:
    order = Document(kind=Kind.ORDER, supplier="B", number="o", lines=(line,))
    invoice = Document(kind=Kind.INVOICE, supplier="B", number="i", follows="o", lines=(line,))
    ordered = state_account(documents=[*told, order], digits=2).total
    invoiced = state_account(documents=[*told, order, invoice], digits=2).total
    assert invoiced.forecast == ordered.forecast
    assert invoiced.actual - ordered.actual == ordered.committed - invoiced.committed


@given(st.lists(planned, max_size=3), documents())
def test_what_remains_is_never_negative_nor_more_than_the_estimate(
    plans: list[Planned], told: list[Document]
) -> None:
    total = state_account(planned=plans, documents=told, digits=2).total
    assert total.forecast >= total.actual + total.committed
    assert total.remaining <= total.estimate


@given(st.lists(st.builds(TaxedAmount, net=amounts, percent=percents), max_size=6), st.randoms())
def test_tax_does_not_depend_on_the_order_of_lines(told: list[TaxedAmount], random) -> None:
    shuffled = list(told)
    random.shuffle(shuffled)
    assert tax_totals(told, digits=2) == tax_totals(shuffled, digits=2)


@given(st.integers(-(10**6), 10**6), st.sampled_from([0, 2, 3]))
def test_rounding_is_odd_and_moves_by_half_a_unit_at_most(tenths: int, digits: int) -> None:
    amount = Decimal(tenths) / 10**4
    assert rounded(-amount, digits=digits) == -rounded(amount, digits=digits)
    assert abs(rounded(amount, digits=digits) - amount) <= Decimal(1).scaleb(-digits) / 2
