"""Checks of what the rows met: direction, both ways, widths, depths, metal outside the cut."""

from collections.abc import Iterator, Sequence
from math import inf

from passplot.proof.case import Case
from passplot.proof.engagement import LINE_SHARE, Bite
from passplot.proof.handling import CENTER_CUTTING
from passplot.proof.replay import CLOSER, Note
from passplot.records.plan import CUT, FINISH, PLUNGE, ROUGH, CutterUse
from passplot.records.proof import Finding

METAL, WAY_BACK = "metal outside the cut", "return clearance"
DIRECTION, BOTH_WAYS = "direction", "both ways"
WIDTH, DEPTH, PRINTED_WIDTH, PRINTED_DEPTH = (
    *("width of cut", "depth of cut"),
    *("printed width", "printed depth"),
)
PLUNGE_DEPTH, FLUTES = "plunge depth", "flute length"

WRONG_SIDE_CELLS = 2  # cells of climb that the map's cell explains, on the steps of a wall
WRONG_SIDE_SHARE = 0.02  # of the diameter: a shorter climb, met by a row in full, is rounding
UNDERSTATED_CELLS = 2  # likewise of both ways beyond what is printed
OVERSTATED_CELLS = 4  # and short of it
FLOOR_SHARE = 0.75  # of the diameter: widest shallow pass over a face or floor (common practice)
PLUNGE_SHARE = 0.5  # of the diameter: deepest plunge at a time (common practice, no source)
FULL_SHARE = 0.98  # of the diameter: as wide as the cutter but for the band beside its line


class Bites:
    """The checks of one case with the cell its replay was made with."""

    def __init__(self, case: Case, cell: float) -> None:
        self.case = case
        self.cell = cell
        self.say = case.gauge.say
        self.faces = {f.name for f in case.job.features if f.kind == "face"}

    def check(self, notes: Sequence[Note]) -> list[Finding]:
        """Findings of every row, in order."""
        found: list[Finding] = []
        for note in notes:
            found += self._out_of_the_cut(note)
            found += self._down(note)
            if note.row.move == CUT:
                found += self._sides(note)
                found += self._printed(note)
                found += self._wide(note)
                found += self._deep(note)
        return found

    def floor_pass(self, note: Note) -> bool:
        """Whether a row is a shallow pass over a face or over the stock left on a floor."""
        if note.row.feature in self.faces:
            return True
        stock = float(self.case.floor[self.case.number(note.row.feature)])
        depth = max(note.bite.depth, note.bite.both_depth)
        return note.row.stage == FINISH and 0 < depth <= stock + self.case.gauge.step

    def _out_of_the_cut(self, note: Note) -> Iterator[Finding]:
        row = note.row
        if note.through:
            yield Finding(
                METAL,
                row.index,
                f"a {row.move} row goes through metal at X {note.through[0]:.3f} "
                f"Y {note.through[1]:.3f} Z {row.tip:g}",
            )
        if note.beside:
            yield Finding(
                WAY_BACK,
                row.index,
                f"the way back comes nearer than {self.say(self.case.gauge.clearance)} to metal "
                f"at X {note.beside[0]:.3f} Y {note.beside[1]:.3f} Z {row.tip:g}",
            )

    def _down(self, note: Note) -> Iterator[Finding]:
        row = note.row
        cutter = self.case.uses[row.cutter].cutter
        most = PLUNGE_SHARE * cutter.cutting_diameter
        over = note.solid > most + self.case.gauge.hair
        if row.move == PLUNGE and not row.drill and over:
            yield Finding(
                PLUNGE_DEPTH,
                row.index,
                f"a plunge goes {self.say(note.solid)} into solid metal, more than half the "
                f"cutter's diameter ({self.say(most)})",
            )
        blunt = row.move == PLUNGE and not (cutter.center_cutting or row.drill)
        if blunt and self.case.play and note.solid > self.case.gauge.hair:
            yield Finding(
                CENTER_CUTTING,
                row.index,
                f"cutter {cutter.id!r} does not cut at its center and goes "
                f"{self.say(note.solid)} down into metal",
            )
        if note.standing:
            yield Finding(
                FLUTES,
                row.index,
                f"metal stands {self.say(note.standing)} above the tip beside the cutter, "
                f"the flutes of {cutter.id!r} are {self.say(cutter.flute_length)} long",
            )

    def _sides(self, note: Note) -> Iterator[Finding]:
        row, bite = note.row, note.bite
        if bite.wrong_side > self._unsided(bite, note.radius):
            asked = "left" if self.case.job.metal_on_left else "right"
            yield Finding(
                DIRECTION,
                row.index,
                f"over {self.say(bite.wrong_side)} of feed the metal is not on the {asked} of "
                "the line of feed",
            )
        step = self.case.gauge.step
        under = bite.both_ways > row.both_ways + UNDERSTATED_CELLS * self.cell + step
        over = row.both_ways > bite.both_ways + OVERSTATED_CELLS * self.cell + step
        if under or over:
            yield Finding(
                BOTH_WAYS,
                row.index,
                f"metal is cut on both sides over {self.say(bite.both_ways)}, the table says "
                f"{self.say(row.both_ways)}",
            )

    def _unsided(self, bite: Bite, radius: float) -> float:
        """Longest climb that is none: rounding, and what a closer look cannot tell.

        A row that meets nothing else could be fed the other way: it has half of that.
        """
        if bite.short:
            return WRONG_SIDE_CELLS * self.cell
        share = WRONG_SIDE_SHARE if bite.right_side + bite.both_ways else WRONG_SIDE_SHARE / 2
        return share * 2 * radius + WRONG_SIDE_CELLS * self.cell / CLOSER

    def _printed(self, note: Note) -> Iterator[Finding]:
        row, bite = note.row, note.bite
        # metal within the band beside the line of feed need not be told
        if self._wider(bite, row.width, note.radius * (1 - 2 * LINE_SHARE)):
            yield Finding(
                PRINTED_WIDTH,
                row.index,
                f"the cut is {self.say(bite.width)} wide, the table says {self.say(row.width)}",
            )
        if bite.depth > row.depth + self.case.gauge.step:
            yield Finding(
                PRINTED_DEPTH,
                row.index,
                f"the cut is {self.say(bite.depth)} deep, the table says {self.say(row.depth)}",
            )

    def _wider(self, bite: Bite, width: float, most: float = inf) -> bool:
        """Whether a cut is wider than ``width``: held to a step, for a moment to a cell more.

        Along a round edge the width changes within a cell of feed. Widths above ``most`` count
        as that.
        """
        held, peak = min(bite.steady, most), min(bite.width, most)
        step = self.case.gauge.step
        return held > width + step or peak > width + step + self.cell

    def _wide(self, note: Note) -> Iterator[Finding]:
        """Rough rows within the width limit; face and floor passes within three quarters."""
        bite = note.bite
        if self.floor_pass(note):
            width, limit = bite.held_width, FLOOR_SHARE * 2 * note.radius
            opens = width > FULL_SHARE * 2 * note.radius and note.row.feature not in self.faces
            # the first pass on the floor of a closed pocket has no free side
            over = width > limit + self.case.gauge.step and not opens
        elif note.row.stage == ROUGH:
            limit = self.case.widest(note.row.cutter)
            width, over = bite.width, self._wider(bite, limit)
        else:
            return
        if over:
            yield Finding(
                WIDTH,
                note.row.index,
                f"the cut is {self.say(width)} wide, the limit is {self.say(limit)}",
            )

    def _deep(self, note: Note) -> Iterator[Finding]:
        if note.row.stage != ROUGH:
            return
        use, bite = self.case.uses[note.row.cutter], note.bite
        for depth, limit, what in self._depths(note, use):
            if depth > limit + self.case.gauge.step:
                yield Finding(
                    DEPTH,
                    note.row.index,
                    f"{what} is {self.say(depth)} deep, the limit is {self.say(limit)} "
                    f"({self.say(bite.both_ways)} cut both ways)",
                )

    def _longest_bite(self, note: Note) -> float:
        """A stretch cut both ways that is longer than this is a slot."""
        wide = self.case.widest(note.row.cutter)
        return max(note.radius, _bite(wide, note.radius)) + 2 * self.cell

    def _depths(self, note: Note, use: CutterUse) -> Iterator[tuple[float, float, str]]:
        """Depths of a rough row with their limits: a bite into a corner is no slot."""
        bite = note.bite
        limit = _least(use.depth_limit, self.case.job.limits.depth_of_cut)
        slot = bite.slot > self._longest_bite(note) and not self.floor_pass(note)
        if slot:
            yield bite.depth, limit, "the cut"
            yield bite.both_depth, use.slot_depth_limit, "the slot"
        else:
            yield max(bite.depth, bite.both_depth), limit, "the cut"


def _bite(width: float, radius: float) -> float:
    """Length over which the turn into the next pass meets metal on both sides.

    The front reaches the width of cut further than the last pass did, and the sagitta of its
    round end: w + r - sqrt(r² - w²).
    """
    width = min(width, radius)
    return width + radius - float((radius**2 - width**2) ** 0.5)


def _least(own: float, asked: float | None) -> float:
    return own if asked is None else min(own, asked)
