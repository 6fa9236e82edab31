"""The commands that make something of a design, or a design: drawings, sheets, a start, proposals."""

from __future__ import annotations

from slabwright.cli.options import (
    Commands,
    Parser,
    command,
    file_argument,
    limits_options,
    loads,
    propose_options,
    sheet_options,
    system_options,
)


def draw(commands: Commands) -> None:
    """A drawing of the plan or of a section."""
    added = command(
        commands,
        "draw",
        "draw the plan to scale, or a section, as an SVG or PDF file; or as GeoJSON, LandXML",
        "The plan to scale on a standard sheet: outline with dimensions, openings, walls,\n"
        "joints by kind, heights, contours, falls, standing water, isolation, drains, steel\n"
        "and a numbered callout for every comment of the review. Exit status 0 when it is\n"
        "drawn, whatever the review says. The name of --out decides: .svg a sheet to look at,\n"
        ".geojson the plan, .xml the finish and base as LandXML surfaces.\n",
        "examples:\n  slabwright draw drive.slab.yaml --out plan.svg\n"
        "  slabwright draw drive.slab.yaml --section A-C --out section.svg\n"
        "  slabwright draw drive.slab.yaml --mark A-C --pins --out plan.pdf\n"
        '  slabwright draw drive.slab.yaml --section "0,11 to 24,11" --metric > section.svg\n'
        "  slabwright draw drive.slab.yaml --out plan.geojson\n",
    )
    file_argument(added)
    added.add_argument(
        "--out", metavar="FILE", help="the file to write: .svg, .pdf, .geojson or .xml; the screen without it"
    )
    added.add_argument(
        "--section", metavar="A-B", help="a section along a line instead: two points, or two pairs of plan numbers"
    )
    added.add_argument(
        "--mark", metavar="A-B", action="append", default=[], help="mark on the plan where a section is cut; repeatable"
    )
    added.add_argument("--pins", action="store_true", help="draw the pins of the stake sheet with their numbers")
    limits_options(added)
    system_options(added)


def order(commands: Commands) -> None:
    """The order sheet."""
    added = command(
        commands,
        "order",
        "what to order and haul, with the arithmetic",
        "Concrete with allowance, loads and headroom; the risk of running short; what a\n"
        "base off its height costs; dig and haul; steel with a cutting plan; isolation,\n"
        "joints, base, sheeting, curing, forms. Sums of money only by prices you give, in\n"
        "the design or in a file. Exit status 0 when the sheet is made.\n",
        "examples:\n  slabwright order drive.slab.yaml\n"
        "  slabwright order drive.slab.yaml --prices prices.yaml --page order.html\n"
        "  slabwright order drive.slab.yaml --csv > order.csv\n",
    )
    added.add_argument("--prices", metavar="FILE", help="prices, as under prices in a design; they count before those")
    sheet_options(added)


def stake(commands: Commands) -> None:
    """The stake sheet."""
    added = command(
        commands,
        "stake",
        "where the pins go, and what the rod reads on each",
        "A pin at every corner, height line and along the edges, and a grid for the screed:\n"
        "plan position, finish height, rod readings for finish, base and subgrade, cut and\n"
        "fill, squaring and a closing check. Readings taken back from the field tell how\n"
        "far off it is, how thick the slab gets, which rules fall short, and the new order.\n",
        "examples:\n  slabwright stake drive.slab.yaml --bench sill --backsight 4.25\n"
        "  slabwright stake drive.slab.yaml --bench 'door sill=100.00 ft' --backsight \"4'-3\\\"\"\n"
        "  slabwright stake drive.slab.yaml --as-shot shots.csv --page stakes.html\n"
        "  slabwright stake drive.slab.yaml --csv > points.csv\n\n"
        "--csv gives number, northing, easting, height, description, place and rod readings\n"
        "under a heading with units; --csv --no-heading the first five alone, as total\n"
        "stations read them. The columns of shots.csv are point, backsight, foresight and,\n"
        "with several set-ups, setup; point is a pin by its number, a point of the design\n"
        "or a bench.\n",
    )
    sheet_options(added)
    added.add_argument("--bench", metavar="NAME", help="a bench or fixed height of the design, or NAME=HEIGHT")
    added.add_argument("--backsight", metavar="READING", help="what the rod reads on it")
    added.add_argument("--screed", metavar="LENGTH", help="length of the screed; 10 ft or 3 m without it")
    added.add_argument("--line", nargs=2, metavar=("A", "B"), help="the two corners that places are measured from")
    added.add_argument("--diagonal", metavar="LENGTH", help="diagonal of the main rectangle as measured")
    added.add_argument("--no-heading", action="store_true", help="with --csv: five columns, for a total station")
    added.add_argument("--as-shot", metavar="FILE.csv", help="rod readings taken back from the field")
    added.add_argument(
        "--shot-on", choices=("base", "finish"), default="base", help="what they were taken on: the base"
    )


def card(commands: Commands) -> None:
    """The card for the day of the pour."""
    added = command(
        commands,
        "card",
        "one page for the morning of the pour",
        "Hours, weather limits and the evaporation rate, the ticket and water that may be\n"
        "added, trucks, where to stop if short, what a plan cannot show and must be looked\n"
        "at, masks at the saw, cautions.\n",
        "examples:\n  slabwright card drive.slab.yaml\n  slabwright card drive.slab.yaml --page card.html\n",
    )
    sheet_options(added)


def begin(commands: Commands) -> None:
    """A design to start from."""
    added = command(
        commands,
        "begin",
        "write a design to start from; asks eight short questions",
        "A commented design to start from. On a terminal it asks eight short questions, each\n"
        "with what is usual, and writes a new file; options answer beforehand. With --use and\n"
        "--size it asks nothing. Feet or meters go by the size as typed. SIZE is along the wall\n"
        "x away from it; an L or a U has one or two more rectangles beyond the first, at its\n"
        "ends; four sides in order and the diagonal from the first corner to the third give\n"
        "the shape as taped.\n",
        'examples:\n  slabwright begin\n  slabwright begin --use patio --size "12 ft x 16 ft"\n'
        '  slabwright begin --use "garage floor" --size "6 m x 7.2 m" --out garage.slab.yaml\n'
        '  slabwright begin --use patio --size "20 ft x 12 ft + 8 ft x 10 ft" --wall A-B\n'
        """  slabwright begin --use walk --size "20 ft, 4 ft, 20'-1\", 4 ft, diagonal 20'-5\""\n"""
        "  slabwright begin --from survey.csv --use patio --units ft --out patio.slab.yaml\n",
    )
    for name, metavar, what in (
        ("use", "USE", "such as patio, walk, driveway, garage floor"),
        ("size", "SIZE", 'along the wall x away: "20 ft x 40 ft"'),
        ("wall", "SIDES", "sides against a wall, such as A-B, or none"),
        ("water", "SIDE", "side that water leaves over, such as C-D"),
        ("thickness", "DEPTH", 'such as "5 in"'),
        ("freezing", "HOW", "none, moderate, severe, or salt: severe with salt"),
        ("steel", "STEEL", "none, bars, mesh, fiber"),
        ("method", "HOW", "how it comes: chute, pump, buggy, wheelbarrow"),
    ):
        added.add_argument(f"--{name}", metavar=metavar, help=what)
    added.add_argument(
        "--from",
        dest="survey",
        metavar="FILE",
        help="begin from a survey (.csv) or a drawing (.geojson) instead of a size",
    )
    added.add_argument(
        "--units", choices=("ft", "m"), help="with --from: what its numbers are in, where it does not say"
    )
    added.add_argument("--out", metavar="FILE", help="write it to a new file instead of the screen")


def propose(commands: Commands) -> None:
    """Heights or joints that settle a design."""
    added = command(
        commands,
        "propose",
        "search for what would settle a design",
        "Searches for what meets the rules in force, and lets the review judge what it finds.\n",
        "examples:\n  slabwright propose heights drive.slab.yaml\n  slabwright propose joints drive.slab.yaml\n\n"
        "exit status:\n  0  found    1  nothing found, or proven that nothing is    2  unreadable\n",
    )
    proposed = added.add_subparsers(dest="what", metavar="WHAT", title="what", parser_class=Parser, required=True)
    heights = command(
        proposed,
        "heights",
        "heights that meet every rule on heights and water and move the least",
        "The heights that meet every rule on heights and water in force, with the fewest points\n"
        "moved, and those the least: on the folds as drawn, else on a plane or along a new\n"
        "valley. Where nothing does it: what clashes, by how much, and the cheapest fixed\n"
        "height to change. It needs the solver: pip install 'slabwright[propose]'.\n",
        "examples:\n  slabwright propose heights drive.slab.yaml\n"
        "  slabwright propose heights drive.slab.yaml --out drive_2.slab.yaml\n"
        "  slabwright propose heights drive.slab.yaml --json > heights.json\n",
    )
    propose_options(heights)
    joints = command(
        proposed,
        "joints",
        "a layout of joints that meets every rule on them, with the least cutting",
        "A layout of joints for any outline: through inside corners and fixtures, no panel too\n"
        "long, too narrow or pointed, no joint that ends on the side of another; of those the\n"
        "one with the fewest feet of cutting and bays most nearly equal. Construction joints,\n"
        "joints with filler and pattern lines stay as they are. Where none is found: the panel\n"
        "and the rule in the way, and what is usually done.\n",
        "examples:\n  slabwright propose joints drive.slab.yaml\n"
        "  slabwright propose joints drive.slab.yaml --out drive_2.slab.yaml\n"
        "  slabwright propose joints drive.slab.yaml --loads 2\n"
        "  slabwright propose joints drive.slab.yaml --json > joints.json\n",
    )
    joints.add_argument(
        "--loads",
        type=loads,
        metavar="N",
        help="end pours at construction joints, each of N truck loads at most (order: truck)",
    )
    propose_options(joints)
