"""The numbers of a starter design, in the units it is written in: where it falls, heights, panels, the order."""

from __future__ import annotations

import math
from collections.abc import Sequence

from slabwright.design.starter.answers import KITS, Answers, Pair, falls_to, pick
from slabwright.design.starter.shape import XY
from slabwright.formulas.ordering import headroom, last_load, loads, rounded_up, with_allowance
from slabwright.formulas.thickness import board_depth, least_board
from slabwright.formulas.units import FOOT, INCH, YARD3
from slabwright.units.quantity import Kind, read

MOST_ASPECT = 1.25  # of a panel, so that the crew has room to shift a joint
ALLOWANCE = 0.08
ROOM, WORTH = 0.5 * INCH, 3 * YARD3  # m of depth before another truck is needed; m3 worth a trip; common practice
STEEPEST = 0.06  # of a drive that starts here
HOPPER = 0.25 * YARD3  # m3 that stays in the hopper of a pump
METRIC_BOARDS = (0.09, 0.14, 0.184, 0.235, 0.286)  # m, planed
DUG = 0.01  # m that a metric board may be shallower than the slab, dug out inside it
JOINT_PART = 0.25  # of the thickness
NEARLY = 1e-9


def grid(width: float, depth: float, longest: float) -> tuple[int, int]:
    """Fewest panels across and along with no side over ``longest`` (m) and none far from square.

    >>> grid(6.0, 12.0, 3.0)
    (2, 4)
    """
    best: tuple[int, int] | None = None
    most = math.ceil(max(width, depth) / min(width, depth, longest) * MOST_ASPECT * 2) + 1
    for across in range(max(1, math.ceil(width / longest - NEARLY)), most):
        if best and across > best[0] * best[1]:
            break
        for along in range(max(1, math.ceil(depth / longest - NEARLY)), most):
            sides = sorted((width / across, depth / along))
            if sides[1] / sides[0] <= MOST_ASPECT and (best is None or across * along < best[0] * best[1]):
                best = (across, along)
                break
    return best or (1, 1)


class Sketch:
    """Numbers of one design; plan and heights in its own unit, all else in meters."""

    def __init__(self, answers: Answers) -> None:
        self.answers, self.kit, self.outline = answers, answers.kit, answers.outline
        self.metric = self.outline.system == "metric"
        self.unit = "m" if self.metric else "ft"
        self.step = 1.0 if self.metric else FOOT
        self.thickness = answers.thickness.si
        self.volume = self.outline.area * self.thickness
        self.wet = not (self.kit.indoors and answers.freezing == "none")
        self.sill = 30.0 if self.metric else 100.0
        self.lip = 0.03 if self.metric else 0.1  # the slab under a sill, and its edge above the lawn
        self.corners: tuple[XY, ...] = tuple((x / self.step, y / self.step) for x, y in self.outline.corners)
        self.way = falls_to(self.outline, answers.walls, answers.water, self.kit.indoors)
        self.door_wall = answers.walls[0] if answers.walls and not self.kit.indoors else None
        self.fall, self.street = self._falls_at()
        self.heights = self._heights()

    def pick(self, pair: Pair) -> str:
        """The text for the system in use."""
        return pick(pair, self.outline.system)

    def _run_down(self, sides: Sequence[int]) -> list[float]:
        """How far down the fall the ends of some sides lie, in the unit of the plan."""
        ends = (self.corners[at % len(self.corners)] for side in sides for at in (side, side + 1))
        return [x * self.way[0] + y * self.way[1] for x, y in ends]

    def _falls_at(self) -> tuple[float, bool]:
        """The slope of each fall, and whether it ends in a street: a drive's wall stands a curb above the gutter."""
        if self.answers.use != "driveway" or not self.answers.walls:
            return self.kit.fall, self.answers.use == "driveway"
        run = max(self._run_down(self.answers.water)) - max(self._run_down(self.answers.walls))
        curb = 0.156 if self.metric else 0.51
        steep = math.ceil(curb / run * 200) / 200 if run > 0 else 1.0
        return (
            (max(self.kit.fall, steep), True) if steep * math.hypot(*self.way) <= STEEPEST else (self.kit.fall, False)
        )

    def _heights(self) -> tuple[float, ...]:
        """Heights of the corners, as closely as a rod reads: highest just under the sill, at its wall if it has one."""
        sides = range(len(self.corners))
        down = [self.fall * one for one in self._run_down(sides)[::2]]
        ends = down if self.door_wall is None else [self.fall * one for one in self._run_down([self.door_wall])]
        high = self.sill - self.lip + min(ends)
        return tuple(round(high - one, 3 if self.metric else 2) for one in down)

    @property
    def vehicle(self) -> tuple[str, str]:
        """The vehicle it is for, and its heaviest axle: the lighter one on a drive that is thinner than usual."""
        thin = self.thickness < read(self.pick(self.kit.thickness), Kind.DEPTH).si - NEARLY
        kit = KITS["garage floor"] if thin and self.kit.vehicle else self.kit
        return kit.vehicle, self.pick(kit.axle)

    def grid(self) -> tuple[int, int]:
        """Panels along the first side and square to it, of an outline of four corners."""
        run = self.outline.run
        return grid((run(0) + run(2)) / 2, (run(1) + run(3)) / 2, 24 * self.thickness)

    def joints(self) -> list[tuple[XY, XY, bool]]:
        """Both ends of each joint, and whether one is at a wall, where no saw reaches.

        They run between like parts of opposite sides; with an inside corner there is one, to be laid out from.
        """
        inside = self.outline.inside_corners()
        if inside:
            x, y = self.corners[inside[0]]
            return [((x, 0), (x, y), False)]
        a, b, c, d = self.corners
        across, along = self.grid()
        first, other = (any(side in self.answers.walls for side in sides) for sides in ((0, 2), (1, 3)))
        lines = [(_between(a, b, at / across), _between(d, c, at / across), first) for at in range(1, across)]
        return lines + [(_between(a, d, at / along), _between(b, c, at / along), other) for at in range(1, along)]

    def board(self) -> tuple[str, float]:
        """The usual form board, and its depth (m): one as deep as the slab or nearly, as a 2x4 is for 4 in."""
        if self.metric:
            depth = next(one for one in METRIC_BOARDS if one >= self.thickness - DUG - NEARLY)
            return f"{round(depth * 1000)} mm", depth
        name = "2x4" if self.thickness <= 4 * INCH + NEARLY else least_board(self.thickness - NEARLY)
        return name, board_depth(name)

    def cut(self) -> str:
        """Depth of a saw cut: a quarter of the thickness, rounded up as saws are set."""
        deep = self.thickness * JOINT_PART
        if self.metric:
            return f"{math.ceil(deep * 200 - 1e-6) * 5} mm"
        quarters = math.ceil(deep / INCH * 4 - 1e-6)
        whole, part = divmod(quarters, 4)
        return f"{whole or ''} {('', '1/4', '1/2', '3/4')[part]}".strip() + " in"

    def order(self) -> str:
        """Volume to order: with the allowance, rounded up to what plants sell."""
        step, size, unit = (0.1, 1.0, "m3") if self.metric else (0.25, YARD3, "yd3")
        comes = with_allowance(self.volume, ALLOWANCE) + (HOPPER if self.answers.comes == "pump" else 0.0)
        return f"{rounded_up(comes / size, step):.4g} {unit}"

    def truck(self) -> str:
        """A usual truck: the first that leaves half an inch of room and makes the last load worth its trip."""
        size, unit = (1.0, "m3") if self.metric else (YARD3, "yd3")
        usual = (7.5, 7, 8, 6) if self.metric else (10, 9, 11, 8)
        comes = read(self.order(), Kind.VOLUME).si
        for truck in usual:
            trucks, last = loads(comes, truck * size), last_load(comes, truck * size)
            room = headroom(trucks * truck * size, self.volume, self.outline.area, ALLOWANCE)
            if room >= ROOM and (trucks == 1 or last >= WORTH):
                return f"{truck:g} {unit}"
        return f"{usual[0]:g} {unit}"


def _between(a: XY, b: XY, part: float) -> XY:
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part
