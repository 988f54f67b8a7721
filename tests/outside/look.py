"""Holds a moves table against its job file: ``python -m tests.outside.look JOB [MOVES]``.

Without a table the program is run on the job first, into a folder ``out`` beside it. Ends with 1
if there is anything to complain about.
"""

import sys
from pathlib import Path

from .bench import sheet
from .measures import read_rows
from .round_job import read
from .round_pixels import replay
from .round_verdict import round_faults, stepped_walls
from .verdict import form_faults


def main(arguments: list[str]) -> int:
    """Print the measures and the complaints."""
    job_file = Path(arguments[0])
    if len(arguments) > 1:
        moves = Path(arguments[1])
    else:
        outcome = sheet(job_file)
        print(f"exit code {outcome.code} {outcome.text.strip()}")
        if outcome.code:
            return 1
        moves = outcome.moves_file
    job, rows = read(job_file), read_rows(moves)
    found, walls = replay(job, rows, with_reach=True), stepped_walls(job, rows)
    print(
        f"{len(rows)} rows; cell {found.cell:.4f}; gouge {found.gouge:.6f}; scallop "
        f"{found.scallop:.5f} of {job.cusp:.5f} at {found.scallop_at}; unreached "
        f"{found.unreached:.5f}; conventional {found.wanted_share:.3f}, both ways "
        f"{found.both_share:.3f}, climb {found.climb_length:.4f}"
    )
    for wall in walls:
        print(
            f"pass {wall.number}: {wall.rows[0].feature}, {wall.rows[0].stage}, "
            f"{len(wall.settings)} settings, {min(wall.clear):.6f} from the wall at the nearest"
        )
    complaints = form_faults(job, [row.line for row in rows]) + round_faults(job, rows, found)
    for line in complaints or ["no complaint"]:
        print(line)
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
