"""Tables of moves spoiled on purpose, and what the proof finds in them."""

import csv
from collections.abc import Callable
from io import StringIO

from passplot.proof import prove
from passplot.records.plan import Plan
from passplot.records.proof import Proof
from passplot.sheet.tables import moves_table
from passplot.write.tables import csv_text

Rows = list[dict[str, str]]
Spoil = Callable[[Rows], None]


def proven(plan: Plan, spoil: Spoil | None = None) -> Proof:
    """The proof of the plan's table, spoiled or not."""
    text = csv_text(moves_table(plan))
    if spoil is not None:
        reader = csv.DictReader(StringIO(text))
        rows = list(reader)
        spoil(rows)
        out = StringIO()
        writer = csv.DictWriter(out, reader.fieldnames or (), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        text = out.getvalue()
    return prove(plan, text)


def found(plan: Plan, spoil: Spoil | None = None) -> set[str]:
    """Names of what the proof finds."""
    return {finding.name for finding in proven(plan, spoil).findings}
