"""Whole turns and dial reading of every row, put beside the positions of a finished plan."""

from dataclasses import replace

from passplot.dials import Mark, Wheel, wheel_of
from passplot.plan.past import at
from passplot.records.plan import Move, Plan

AXES = ("X", "Y", "Z")


def with_readings(plan: Plan) -> Plan:
    """The plan with turns and readings; as it is where no approach directions were chosen.

    At the first row of each cutter every axis stands where the row says, arrived in its approach
    direction.
    """
    if plan.approach is None:
        return plan
    machine = plan.job.shop.machine
    wheels = {
        axis: wheel
        for axis, approach in zip(AXES, plan.approach, strict=True)
        if (wheel := wheel_of(machine, axis, approach)) is not None
    }
    marks: dict[str, Mark] = {}
    moves: list[Move] = []
    before: Move | None = None
    for move in plan.moves:
        if move.axis in wheels and before is not None:
            moves.append(_read(wheels[move.axis], marks, before, move))
        else:
            if not move.axis:
                for axis, wheel in wheels.items():
                    marks[axis] = wheel.mark(at(move, axis), wheel.approach)
            moves.append(move)
        before = move
    return replace(plan, moves=tuple(moves))


def _read(wheel: Wheel, marks: dict[str, Mark], before: Move, move: Move) -> Move:
    end = at(move, wheel.axis)
    sense = 1 if end > at(before, wheel.axis) else -1
    mark = wheel.mark(end, sense)
    turn = wheel.turn(marks[wheel.axis], mark, sense)
    marks[wheel.axis] = mark
    return replace(move, crank=turn.crank, turns=turn.turns, dial=turn.reading)
