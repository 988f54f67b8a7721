"""The rows done one after another on a block: what each meets, and what is left."""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, inf

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.case import Case
from passplot.proof.engagement import Bite, engage
from passplot.proof.field import Field, Window
from passplot.proof.forms import corner_of, rise
from passplot.proof.front import Front
from passplot.proof.gauge import Floats
from passplot.proof.met import Met
from passplot.proof.metal import Frame, Gaps, Metal, frame_of
from passplot.proof.rows import Row
from passplot.proof.slants import AIR
from passplot.proof.stepped import Heading, Joint, Link, chains, headings, settled
from passplot.proof.swing import Cutting, swing
from passplot.records.plan import CUT, FINISH, PLUNGE, RETURN, ROUGH
from passplot.records.shop import Cutter

THIN_SHARE = 0.9  # of a readout step: thinner metal is rounding, no cut and no side of one
DEPTH_SAMPLES = 50  # lines of a row on which the depth of thin cuts is looked up
SHORT_STATIONS = 6  # places along a short row, and along each cell of it, where sides are noted
CLOSER = 8  # times as many lines where the sides of a row are in doubt
END_SHARE = 1e-4  # of the radius: how near its own foremost point a cutter is looked at

NO_BITE = Bite()


@dataclass(frozen=True, slots=True)
class Note:
    """What one row met.

    Attributes
    ----------
    row : Row
    radius : float
        Of its cutter.
    bite : Bite
        Of a cut row; nothing for others.
    solid : float
        Depth of metal a plunge row went through.
    through, beside : tuple of float or None
        Point of the way at which a row out of the cut swept metal; at which the way back came
        nearer to metal than the return clearance.
    standing : float
        How high metal stood above the tip within a cell of the cutter, 0 where not above the
        flutes.
    """

    row: Row
    radius: float
    bite: Bite = NO_BITE
    solid: float = 0.0
    through: tuple[float, float] | None = None
    beside: tuple[float, float] | None = None
    standing: float = 0.0


@dataclass(frozen=True, slots=True)
class Replayed:
    """A replay: a note a row, the map after the last, and the map before each finish.

    ``before_finish`` maps a feature to the heights when finishing began after it was roughed;
    ``walls`` are the chains of rows that step walls off.
    """

    notes: tuple[Note, ...]
    field: Field
    before_finish: dict[str, Floats]
    walls: tuple[tuple[Row, ...], ...] = ()


class Bench:
    """The block being worked: its map and its metal by formula, kept in step.

    ``chained`` maps the rows of stepped walls to the heading of the wall where they start;
    ``links`` keeps what they met. Both by row.
    """

    def __init__(self, case: Case, field: Field, met: Met, chained: dict[int, Heading]) -> None:
        self.case = case
        self.field = field
        self.met = met
        self.gauge = case.gauge
        self.chained = chained
        self.links: dict[int, Link] = {}
        self.last_cut: Row | None = None
        self.since_cut = inf  # travel in X and Y since the last cut row ended

    def begin(self) -> None:
        """Bring the block to where earlier settings left it; the map is so already."""
        here = self.case.here
        if here is None:
            return
        for feature in self.case.job.features:
            if feature.name == AIR:
                for loop in feature.area:
                    corners = np.array([(at.x, at.y) for at in loop.corners])
                    self.met.carve(corners, feature.floor)
        for row in here.carried:
            if row.cuts:
                self.met.sweep(row, self.case.uses[row.cutter].cutter)

    def do(self, row: Row) -> Note:
        """Do one row and note what it meets."""
        cutter = self.case.uses[row.cutter].cutter
        note = Note(row, cutter.radius)
        if row.tip < self.case.job.stock.raw_top - self.gauge.hair:
            if row.cuts:
                note = self._cut(row, cutter)
            elif row.first or row.moved != "Z" or row.end[2] < row.start[2]:
                note = self._pass_by(row, cutter)
            if row.cuts or note.through:
                window = self.field.window(row, cutter.radius)
                self.field.lower(window, bottom(window, row.tip, cutter))
                self.met.sweep(row, cutter)
        self.since_cut += abs(row.end[0] - row.start[0]) + abs(row.end[1] - row.start[1])
        if row.move == CUT:
            self.last_cut, self.since_cut = row, 0.0
        return note

    def _cut(self, row: Row, cutter: Cutter) -> Note:
        radius, tip = cutter.radius, row.tip
        note = Note(row, radius, standing=self._above_flutes(row, cutter))
        window = self.field.window(row, radius)
        if row.move == PLUNGE:
            under = window.swept
            if self.case.play:
                # what the play of a screw left beside the cutter is shaved by its rim
                rim = self.case.play + self.gauge.resolution + self.field.cell
                under = under & (window.off < max(radius - rim, 0.0) ** 2)
            solid = (window.height - bottom(window, tip, cutter))[under].max(initial=0.0)
            return replace(note, solid=float(solid))
        if row.turn is not None:
            cut = Cutting(radius, tip, self.case.job.metal_on_left, self.field.cell)
            return replace(note, bite=swing(self.met.by(cutter), self.gauge, row.turn, cut))
        frame = frame_of(row)
        if frame is None or frame.length == 0:
            return note
        if row.index in self.chained and frame.length <= radius:
            return replace(note, bite=self._step(row, frame, cutter))
        return replace(note, bite=self._feed(row, frame, cutter, window))

    def _feed(self, row: Row, frame: Frame, cutter: Cutter, window: Window) -> Bite:
        """What a row of some length meets, from lines across its way."""
        radius, tip = cutter.radius, row.tip
        far = frame.origin[frame.axis] + frame.ahead * (frame.length + radius)
        lines = self.field.along(frame.axis, *sorted((frame.origin[frame.axis], far)))
        if not len(lines):
            return NO_BITE
        thin = THIN_SHARE * self.gauge.resolution
        metal = self.met.by(cutter)
        gaps = metal.gaps(frame, lines, tip, radius, least=thin)
        pitch = self.field.pitches[frame.axis]
        bite, both = engage(gaps, frame, radius, pitch, self.case.job.metal_on_left)
        if bite.wrong_side or abs(bite.both_ways - row.both_ways) > self.field.cell:
            between = (np.arange(CLOSER) + 0.5) / CLOSER - 0.5
            lines = (lines[:, None] + pitch * between).ravel()
            gaps = metal.gaps(frame, lines, tip, radius, least=thin)
            pitch /= CLOSER
            bite, both = engage(gaps, frame, radius, pitch, self.case.job.metal_on_left)
        if row.index in self.chained:
            self.links[row.index] = Link(row, None, *both.ends)
        depth, both_depth = both.depths(*self._depths(frame, window, gaps, tip, cutter))
        return replace(bite, depth=depth, both_depth=both_depth)

    def _step(self, row: Row, frame: Frame, cutter: Cutter) -> Bite:
        """What a short row of a stepped wall meets, from points on the front of the cutter."""
        metal, left = self.met.by(cutter), self.case.job.metal_on_left
        front = Front(metal, self.gauge, cutter.radius, row.tip, left)
        here = np.array(row.start[:2])
        feed = np.subtract(row.end[:2], row.start[:2]) / frame.length
        stations = SHORT_STATIONS * max(ceil(frame.length / self.field.cell), 1)
        step = frame.length / stations
        along = (np.arange(stations) + 0.5) * step
        met = front.met(here + along[:, None] * feed, feed)
        heading = self.chained[row.index]
        ahead = front.met(here[None, :], heading.way)
        both = bool((ahead.asked & ahead.other)[0])
        width = 0.0 if both else float(front.widths(here[None, :], heading.way[None, :])[0])
        way = (float(heading.way[0]), float(heading.way[1]))
        self.links[row.index] = Link(row, Joint(way, heading.chord, both, width))
        # the heading may point a little into the wall: only what the row itself meets is cut
        depth = max(met.height - row.tip, 0.0)
        return Bite(
            right_side=step * int(np.count_nonzero(met.asked & ~met.other)),
            wrong_side=step * int(np.count_nonzero(met.other & ~met.asked)),
            both_ways=step * int(np.count_nonzero(met.asked & met.other)),
            cutting=step * int(np.count_nonzero(met.any)),
            depth=depth,
            short=True,
        )

    def _depths(
        self, frame: Frame, window: Window, gaps: Gaps, tip: float, cutter: Cutter
    ) -> tuple[Floats, Floats, Floats]:
        """Where metal is cut, seen along the feed, and how deep.

        The cells of the map that are lowered, and the middle of the metal on some lines, which
        finds cuts thinner than a cell.
        """
        thick = window.height - bottom(window, tip, cutter)
        lowered = np.nonzero(window.swept & (thick > 0))
        places = (self.field.xs[window.x][lowered[0]], self.field.ys[window.y][lowered[1]])
        line, gap = np.nonzero(gaps.there)
        some = slice(None, None, max(len(line) // DEPTH_SAMPLES, 1))
        u = gaps.u[line[some]]
        v = (gaps.low + gaps.high)[line[some], gap[some]] / 2
        return (
            np.concatenate([frame.u(places[frame.axis]), u]),
            np.concatenate([frame.v(places[1 - frame.axis]), v]),
            np.concatenate([thick[lowered], self.met.by(cutter).top(frame, u, v) - tip]),
        )

    def _above_flutes(self, row: Row, cutter: Cutter) -> float:
        """How high metal stands above the tip within a cell of the cutter, if past the flutes."""
        most = cutter.flute_length + self.gauge.hair
        if self.case.job.stock.raw_top - row.tip <= most:
            return 0.0
        near = self.field.window(row, cutter.radius + self.field.cell)
        high = float(near.height[near.swept].max(initial=row.tip)) - row.tip
        return high if high > most else 0.0

    def _pass_by(self, row: Row, cutter: Cutter) -> Note:
        """A row that must touch nothing; a way back must keep its distance as well."""
        frame, radius = frame_of(row), cutter.radius
        if self.met.rounded:
            through = self._under_the_end(row, cutter)
            if through:
                return Note(row, radius, through=through)
        if frame is None:
            window = self.field.window(row, radius - self.field.cell)
            hit = (window.swept & (window.height > row.tip)).any()
            return Note(row, radius, through=row.end[:2] if hit else None)
        metal = self.met.by(cutter)
        through = self._metal_in(metal, row, frame, radius - self.gauge.hair)
        if through or row.move != RETURN or self._own_line(row):
            return Note(row, radius, through=through)
        # backing off takes up to stand_off of travel, and starts beside the metal just cut
        skip = self.case.stand_off + self.gauge.step - self.since_cut
        if skip > 0:
            frame = frame.shortened(skip)
        if frame.length <= 0:
            return Note(row, radius)
        reach = radius + self.gauge.clearance - self.gauge.hair
        return Note(row, radius, beside=self._metal_in(metal, row, frame, reach, past_start=True))

    def _under_the_end(self, row: Row, cutter: Cutter) -> tuple[float, float] | None:
        """A place where what rounded ends left stands higher than the cutter's lower end.

        That is no matter of formula: the map knows fillets and scallops at the middle of a cell.
        """
        window = self.field.window(row, cutter.radius - self.gauge.hair)
        end = bottom(window, row.tip, cutter)
        met = np.argwhere(window.swept & (window.height > end + self.gauge.hair))
        if not len(met):
            return None
        column, line = met[0]
        return float(self.field.xs[window.x][column]), float(self.field.ys[window.y][line])

    def _metal_in(
        self, metal: Metal, row: Row, frame: Frame, reach: float, past_start: bool = False
    ) -> tuple[float, float] | None:
        """A point of the way within ``reach`` of which metal stands, if there is one.

        ``past_start`` passes over metal that is within reach of the start already.
        """
        here = frame.origin[frame.axis]
        ahead, behind = here + frame.ahead * (frame.length + reach), here - frame.ahead * reach
        near = frame.ahead * reach * END_SHARE
        ends = np.array([behind + near, here, here + frame.ahead * frame.length, ahead - near])
        lines = np.concatenate([ends, self.field.along(frame.axis, *sorted((behind, ahead)))])
        clear = reach + self.gauge.hair if past_start else 0.0
        gaps = metal.gaps(frame, lines, row.tip, reach, least=self.gauge.hair, clear_start=clear)
        hits = np.flatnonzero(gaps.there.any(axis=1))
        if not len(hits):
            return None
        forward = float(np.clip(gaps.u[hits].min(), 0.0, frame.length))
        place = [*frame.origin]
        place[frame.axis] += frame.ahead * forward
        return place[0], place[1]

    def _own_line(self, row: Row) -> bool:
        """Whether a finish pass comes back along the line it has just cut."""
        cut = self.last_cut
        if cut is None or row.stage != FINISH or cut.stage != FINISH or row.moved != cut.moved:
            return False
        across = 1 - "XY".index(row.moved)
        along = 1 - across
        low, high = sorted((cut.start[along], cut.end[along]))
        back = sorted((row.start[along], row.end[along]))
        same = row.end[across] == cut.end[across] and row.end[2] == cut.end[2]
        return same and low <= back[0] and back[1] <= high


def bottom(window: Window, tip: float, cutter: Cutter) -> float | Floats:
    """Z of the cutter's lower end over the cells of a window."""
    corner = corner_of(cutter)
    return tip + rise(np.sqrt(window.off), cutter.radius, corner) if corner else tip


def replay(case: Case, rows: Sequence[Row], field: Field) -> Replayed:
    """Do every row in order on a fresh block, lowering the map ``field``."""
    walls = chains(rows)
    chained: dict[int, Heading] = {}
    for wall in walls:
        ways = headings(wall, case.uses[wall[0].cutter].cutter.radius)
        chained |= {row.index: way for row, way in zip(wall, ways, strict=True)}
    cutters = [use.cutter for use in case.uses.values()]
    met = Met(case.job.stock, cutters, len(rows), field.cell)
    bench = Bench(case, field, met, chained)
    bench.begin()
    before_finish: dict[str, Floats] = {}
    roughed: set[str] = set()
    notes: list[Note] = []
    for row in rows:
        if row.stage == ROUGH:
            roughed.add(row.feature)
        elif row.stage == FINISH and (roughed | {row.feature}) - before_finish.keys():
            # the finish cuts of one feature may run over the floor of another: both are judged
            # by what stood when finishing began
            heights = field.height.copy()
            for name in (roughed | {row.feature}) - before_finish.keys():
                before_finish[name] = heights
        notes.append(bench.do(row))
    for wall in walls:
        _settle(bench, notes, wall)
    return Replayed(tuple(notes), field, before_finish, tuple(map(tuple, walls)))


def _settle(bench: Bench, notes: list[Note], wall: Sequence[Row]) -> None:
    """Give the rows of a stepped wall the width and the slot that the whole of it has."""
    links = [bench.links.get(row.index, Link(row, None)) for row in wall]
    mine = [notes[row.index - 1] for row in wall]
    bites = settled(
        links,
        [note.bite for note in mine],
        mine[0].radius,
        bench.field.cell,
        metal_on_left=bench.case.job.metal_on_left,
        widest=bench.case.widest(wall[0].cutter),
    )
    for note, bite in zip(mine, bites, strict=True):
        notes[note.row.index - 1] = replace(note, bite=bite)
