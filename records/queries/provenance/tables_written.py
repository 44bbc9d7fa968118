"""What was signed and decided about a thing, in tables, as those of what it is made."""

from collections.abc import Iterable

from records.models import Deviation, SignOff
from records.queries.provenance.tables import Row, Table
from records.queries.provenance.written import Written
from records.queries.subjects import called
from records.spelling.moments import when
from records.spelling.verdicts import OK, WAITING, Verdict


def signatures(written: Written) -> Table:
    """List every signature with its meaning and the kind of check."""
    columns = ("Stage", "Of", "Signed by", "When", "Meaning", "Kind of check", "Digest")
    rows = [Row(_signature(signoff)) for signoff in written.signoffs]
    return Table("Signatures", columns, (4, 3, 3, 4, 5, 4, 4), rows, names=2)


def deviations(written: Written) -> Table:
    """List the deviations about a thing or any part of it, with what was decided."""
    columns = ("Number", "Title", "Required", "Found", "Opened", "Decided", "State")
    rows = [_deviation(deviation) for deviation in written.deviations]
    shares = (2, 4, 4, 5, 3, 4, 2)
    return Table("Deviations", columns, shares, rows, names=2, judged=True)


def decisions_in_words(deviation: Deviation) -> str:
    """Say what was decided about a deviation, each decision with day and reason."""
    words: Iterable[str] = (
        f"{d.get_kind_display()}, {when(d.happened_at)}: {d.reason}"
        for d in deviation.dispositions.all()
    )
    return "; ".join(words) or "nothing decided yet"


def _signature(signoff: SignOff) -> tuple[str, ...]:
    return (
        signoff.stage.name,
        called(signoff.subject),
        signoff.printed_name,
        when(signoff.happened_at),
        signoff.meaning,
        str(signoff.get_check_kind_display()),
        signoff.digest[:16],
    )


def _deviation(deviation: Deviation) -> Row:
    state = str(deviation.get_state_display())
    cells = (
        *(deviation.number, deviation.title, deviation.required, deviation.found),
        *(when(deviation.happened_at), decisions_in_words(deviation), state),
    )
    is_open = deviation.state == Deviation.State.OPEN
    return Row(cells, deviation, Verdict(WAITING if is_open else OK, state))
