"""What is cranked by dials alone, line by line: rows of the moves table in words of the trade."""

from collections.abc import Sequence

from passplot.dials import wheel_of
from passplot.frozen import dataclass
from passplot.records.plan import CUT, PLUNGE, POSITION, RETRACT, RETURN, Move, Plan
from passplot.sheet.numbers import plain, printed
from passplot.sheet.tables import moves_table, style_of

SET, PAST, FEED, BACK, GO, LIFT, LOWER, DOWN, START = (
    "SET", "PAST", "FEED", "BACK", "GO", "LIFT", "LOWER", "PLUNGE", "START",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class DialLine:
    """One line: what is done, at which wheel, and where its dial ends.

    Attributes
    ----------
    word : str
        ``SET`` (reached in the approach direction and locked), ``PAST`` (too far on purpose),
        ``FEED``, ``BACK``, ``GO``, ``LIFT``, ``LOWER``, ``PLUNGE``; ``START`` says how the dials
        stand at the first row of a cutter.
    number : str
        Pass, where the line is the first row of one.
    clear : bool
        Whether a feed ends off the stock.
    row : int
        Row of the moves table.
    place : str
        Where the cutter then stands along the axis, as the diagrams and the pass table say it.
    begins : str
        Reading from which a feed starts, where the sheet has one for that axis before.
    text : str
        Only of ``START``: all three readings.
    """

    word: str
    row: int
    cutter: str
    number: str = ""
    axis: str = ""
    crank: str = ""
    turns: str = ""
    reading: str = ""
    place: str = ""
    begins: str = ""
    clear: bool = False
    text: str = ""


def dial_lines(plan: Plan) -> tuple[DialLine, ...]:
    """All lines of a plan, from the cells of its moves table; none where it has no dials."""
    if plan.approach is None:
        return ()
    table = moves_table(plan)
    cells = [dict(zip(table.columns, row, strict=True)) for row in table.rows]
    inch = plan.job.shop.machine.dial_units == "inch"
    first = {each.row: each for each in plan.passes}
    found: list[DialLine] = []
    stands: dict[str, str] = {}
    for index, (move, row) in enumerate(zip(plan.moves, cells, strict=True)):
        if not move.axis:
            stands = {}
            found.append(DialLine(START, move.row, move.cutter, text=_standing(plan, move)))
            continue
        if move.dial is None:
            continue
        begun = first.get(move.row)
        reading = printed(row["dial"], inch) if inch else row["dial"]
        found.append(
            DialLine(
                word=_word(plan.moves, index, plan.approach),
                row=move.row,
                cutter=move.cutter,
                number=str(begun.number) if begun else "",
                axis=move.axis,
                crank=move.crank,
                turns=row["turns"],
                reading=reading,
                place=printed(row[move.axis.lower()], plan.job.inch),
                begins=stands.get(move.axis, "") if move.move == CUT else "",
                clear=begun.end_clear if begun and begun.steps is None else False,
            )
        )
        stands[move.axis] = reading
    return tuple(found)


def _word(moves: Sequence[Move], index: int, approach: tuple[int, int, int]) -> str:
    move = moves[index]
    plain_words = {CUT: FEED, PLUNGE: DOWN, RETRACT: LIFT, RETURN: BACK}
    before = moves[index - 1]
    sense = _sense(before, move)
    wanted = dict(zip("XYZ", approach, strict=True))[move.axis]
    after = moves[index + 1] if index + 1 < len(moves) else None
    comes_back = after is not None and after.axis == move.axis and after.move == POSITION
    if after is not None and comes_back and move.axis != "Z" and move.move != CUT:
        past = sense != wanted and _sense(move, after) == wanted
        if past:
            return PAST
    if move.move in plain_words:
        return plain_words[move.move]
    if move.axis == "Z":
        return LOWER if sense < 0 else LIFT
    return SET if sense == wanted and _held(moves, index) else GO


def _held(moves: Sequence[Move], index: int) -> bool:
    """Whether the axis is held in a cut before it moves again."""
    axis = moves[index].axis
    for each in moves[index + 1 :]:
        if not each.axis or each.axis == axis:
            return False
        if each.move in (CUT, PLUNGE):
            return True
    return False


def _sense(before: Move, move: Move) -> int:
    one, two = ({"X": each.x, "Y": each.y, "Z": each.z}[move.axis] for each in (before, move))
    return 1 if two > one else -1


def _standing(plan: Plan, move: Move) -> str:
    """How the dials stand where a cutter begins."""
    machine = plan.job.shop.machine
    assert plan.approach is not None
    places = style_of(plan.job).dial_places
    shown = []
    for axis, at, approach in zip("XYZ", (move.x, move.y, move.z), plan.approach, strict=True):
        wheel = wheel_of(machine, axis, approach)
        if wheel is not None:
            reading = plain(wheel.mark(at, approach).reading, places)
            inch = machine.dial_units == "inch"
            shown.append(f"{axis} {printed(reading, inch) if inch else reading}")
    return "DIALS AT " + "   ".join(shown)
