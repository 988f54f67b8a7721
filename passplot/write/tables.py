"""Tables as comma separated text."""

import csv
from io import StringIO

from passplot.records.sheet import Table


def csv_text(table: Table) -> str:
    """The table as CSV: header line first, one line a row, each ended by a line feed (RFC 4180)."""
    out = StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(table.columns)
    writer.writerows(table.rows)
    return out.getvalue()
