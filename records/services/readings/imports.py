"""Importing readings from a file: every line is checked, or nothing is kept."""

from records.models import Reading
from records.queries.readings.context import context_for
from records.rules.finding import Finding
from records.services.ledger import Act, Entry
from records.services.readings.lines import (
    Batch,
    ReadingRow,
    add_drafts,
    batches_of,
    gauges_named,
    read_lines,
)
from records.services.readings.log import judged_rows
from records.services.readings.ranges import add_ranges
from records.services.refusal import Refusal


def import_readings(*, act: Act, text: str) -> list[Reading]:
    """Write the readings of a CSV file down, all of them or none.

    Columns: kind, number, stage, characteristic, entered, happened_at; unit, gauge,
    blade, station, joint and point where they are needed. Raises `Refusal` with every
    bad line by its number. The queries grow with the things read, not the lines.
    """
    with Entry(act, "import readings") as entry:
        lines = read_lines(text)
        entry.subject = f"{len(lines)} lines"
        batches, problems_so_far = batches_of(lines)
        gauges = gauges_named(lines)
        contexts = []
        rows: list[Reading] = []
        for batch in batches:
            problems_so_far += add_drafts(batch, gauges)
            if not batch.drafts:
                continue
            context = context_for(
                batch.thing,
                [d.characteristic for d in batch.drafts],
                [d.gauge for d in batch.drafts],
                batch.drafts[0].characteristic.stage.revision,
            )
            judged, problems = judged_rows(batch.drafts, context, act.at)
            problems_so_far += [_at_line(batch, place, f) for place, f in problems]
            contexts.append((context, judged))
            rows += judged
        if problems_so_far:
            raise Refusal(sorted(problems_so_far, key=_line_number))
        entry.add_many(rows)
        for context, judged in contexts:
            context.take(judged)
            add_ranges(entry, context, judged)
        return rows


def _at_line(batch: Batch, place: int, finding: Finding) -> Finding:
    line: ReadingRow = batch.lines[place]
    return line.wrong(finding.sentence)


def _line_number(finding: Finding) -> int:
    number = finding.sentence.removeprefix("Line ").partition(":")[0]
    return int(number) if number.isdecimal() else 0
