"""Every refusal of a design by its structure and its quantities, word for word."""

from __future__ import annotations

# One changed section of a sound design (tests/snippets.py) and everything that is told about it.
TABLE: list[tuple[dict[str, str | None], list[tuple[int, int, str, str]]]] = [
    ({"thikness": "{design: 4 in}", "thickness": None}, [(7, 1, '"thikness" is not a key known here', "thickness")]),
    ({"reinforcement": "{fibre: {dose: 1 lb/yd3}}"}, [(8, 17, '"fibre" is not a key known here', "fiber")]),
    ({"thickness": "{dezign: 4 in}"}, [(7, 13, '"dezign" is not a key known here', "design")]),
    (
        {"thickness": "{design: 4}"},
        [
            (
                7,
                21,
                '"design: 4" has no unit',
                "the unit with it, as in 5 in or 125 mm; only points and heights take bare numbers",
            )
        ],
    ),
    ({"thickness": "{design: 4 ft}"}, [(7, 21, '"design: 4 ft" is out of range: 2 in to 18 in', "is 4 in meant?")]),
    (
        {"thickness": "{design: 0.33 in}"},
        [(7, 21, '"design: 0.33 in" is out of range: 2 in to 18 in', "is 0.33 ft meant?")],
    ),
    (
        {"thickness": "4 in"},
        [(7, 12, '"thickness" is one value, and keys are wanted', "thickness: {design: 5 in, form_board: 2x6}")],
    ),
    (
        {"thickness": "[4 in]"},
        [(7, 1, '"thickness" is a list, and keys are wanted', "thickness: {design: 5 in, form_board: 2x6}")],
    ),
    ({"thickness": ""}, [(7, 1, '"thickness" has no value', "thickness: {design: 5 in, form_board: 2x6}")]),
    ({"thickness": "{design: }"}, [(7, 13, '"design" has no value', "design: 5 in")]),
    ({"use": "garrage floor"}, [(4, 6, '"use: garrage floor" is not known here', "garage floor")]),
    (
        {"use": "tennis"},
        [
            (
                4,
                6,
                '"use: tennis" is not known here',
                "one of: patio, walk, driveway, vehicle pad, garage floor, shop floor, equipment pad, "
                "sport court, pool deck, bin store, carport, shed base, barn floor",
            )
        ],
    ),
    ({"use": "[patio]"}, [(4, 1, '"use" is a list, and one value is wanted', "use: driveway")]),
    ({"format": "2"}, [(1, 9, '"format: 2" is not known here', "format: 1")]),
    ({"format": "one"}, [(1, 9, '"format: one" is not known here', "format: 1")]),
    (
        {"points": "{A: [0, 0], B: [12,5, 0], C: [12, 10], D: [0, 10]}"},
        [
            (
                5,
                24,
                "a spot is two numbers, x and y, and this has 3",
                "[12.5, 0] or [12, 5.0] if a comma is a decimal point",
            )
        ],
    ),
    (
        {"points": "{A: [0, 0], B: [12, x], C: [12, 10], D: [0, 10]}"},
        [(5, 29, '"x" cannot be read as a length', "a length such as 12'-6 1/2\" or 3.82 m")],
    ),
    (
        {"points": "{A: 0, B: [12, 0], C: [12, 10], D: [0, 10]}"},
        [(5, 13, '"A" is one value, and a list is wanted', "A: [12, 3]")],
    ),
    (
        {"points": "{A: [0, .nan], B: [12, 0], C: [1e12, 10], D: [0, .inf]}"},
        [
            (5, 17, '".nan" is not a number that can be measured', "a number"),
            (5, 40, '"1e12" is too large for any slab', "a length such as 12'-6 1/2\" or 3.82 m"),
            (5, 58, '".inf" is not a number that can be measured', "a number"),
        ],
    ),
    ({"outline": "[A, B, C, Z]"}, [(6, 20, 'there is no point called "Z"', "the points are A, B, C, D")]),
    ({"outline": "[A, b, C, D]"}, [(6, 14, 'there is no point called "b"', "B")]),
    ({"outline": "[A, B]"}, [(6, 1, "2 corners make no shape", "at least 3 corners")]),
    ({"outline": "A"}, [(6, 10, '"outline" is one value, and a list is wanted', "outline: [A, B, C, D]")]),
    (
        {"outline": "[A, [12, 0, 3], C, D]"},
        [
            (
                6,
                14,
                "a spot is two numbers, x and y, and this has 3",
                "[12.0, 3] or [12, 0.3] if a comma is a decimal point",
            )
        ],
    ),
    ({"outline": "[A, {arc_to: B}, C, D]"}, [(6, 14, 'this entry of "outline" lacks "through"', "through: M")]),
    ({"outline": "[A, {arc_to: B, thru: C}, C, D]"}, [(6, 26, '"thru" is not a key known here', "through")]),
    (
        {"outline": "[A, {arc_to: B, through: [6, 0]}, C, D]"},
        [
            (
                6,
                14,
                "the point this arc passes through lies on the straight line between its ends",
                "move that point out to the curve, or name the corner alone for a straight run",
            )
        ],
    ),
    ({"edges": "[{run: [A, B], rest: lawn}]"}, [(8, 23, '"rest" does not go with "run"', "keep one of the two")]),
    (
        {"edges": "[{rest: lawn, ground: 1 1/2 in below}]"},
        [
            (
                8,
                30,
                '"ground: 1 1/2 in below" is measured from the slab, and a height from the datum is wanted',
                "ground_below: 1 1/2 in, in place of ground",
            )
        ],
    ),
    (
        {"edges": "[{rest: lawn, ground: 99.3, ground_below: 1 in}]"},
        [(8, 36, '"ground_below" does not go with "ground"', "keep one of the two")],
    ),
    (
        {"edges": "[{run: [A, B], beside: street, ground_below: 1 in}, {rest: lawn}]"},
        [
            (
                8,
                39,
                '"ground_below" belongs to lawn, bed, gravel and open ground; other things stay where they are',
                "its height, as in ground: 99.30",
            )
        ],
    ),
    ({"edges": "[{run: [A, B], beside: house}]"}, [(8, 31, '"beside: house" is not known here', "building")]),
    (
        {"edges": "[{beside: lawn}]"},
        [
            (
                8,
                9,
                'this entry of "edges" lacks "run"',
                "run: [A, B], or rest: lawn in place of both for all the rest of the outline",
            )
        ],
    ),
    (
        {"edges": "{run: [A, B], beside: lawn}"},
        [
            (
                8,
                1,
                '"edges" holds keys, and a list is wanted',
                "start its entry with a dash, as in edges: [{run: [A, B], beside: building}, {rest: open ground}]",
            )
        ],
    ),
    (
        {"edges": "[{run: [A, B], beside: building, isolation: foam}]"},
        [(8, 52, '"isolation: foam" is not known here', "{material: foam, thickness: 1/2 in, depth: full} or none")],
    ),
    (
        {"edges": "[{run: [A, B], beside: building, isolation: {material: foam, thickness: 1/2, depth: ful}}]"},
        [
            (8, 80, '"1/2" has no unit', "1/2 in or 1/2 mm"),
            (8, 92, '"ful" cannot be read as a depth', "a depth such as 5 in or 127 mm, or full"),
        ],
    ),
    (
        {"edges": "[{run: [A, B], beside: building, takes_water: maybe}]"},
        [(8, 54, '"takes_water: maybe" is neither yes nor no', "true or false")],
    ),
    (
        {"edges": "[{run: A-B, beside: building}]"},
        [(8, 15, '"run" is one value, and a list is wanted', "run: [A, B]")],
    ),
    (
        {"heights": "{finish: {A: 99,90, B: 99,90, C: -0,5 m}}", "order": "{volume: 7,5 m3, truck: 8,25 m3}"},
        [
            (
                line,
                column,
                f'"{typed}" has a decimal comma, and inside braces a comma ends the value',
                f'{typed.replace(",", ".")}, or "{typed}" in quotes',
            )
            for line, column, typed in (
                (8, 23, "99,90"),
                (8, 33, "99,90"),
                (8, 43, "-0,5 m"),
                (9, 17, "7,5 m3"),
                (9, 32, "8,25 m3"),
            )
        ],
    ),
    (
        {"mix": "{strength: 4,000 psi, air: 6 %}"},
        [(8, 17, '"4,000 psi" has a comma in the number, and inside braces a comma ends the value', "4000 psi")],
    ),
    (
        {"mix": "{exposure: XC4, XF1, air: 5 %}"},
        [
            (
                8,
                22,
                '"XF1" stands alone, since inside braces a comma ends the value before it',
                'the classes in quotes, as in exposure: "XC4, XF1"',
            )
        ],
    ),
    (
        {"heights": "{finish: {A: 99.9 , Z: 99.8}}"},
        [(8, 30, 'there is no point called "Z"', "the points are A, B, C, D")],
    ),
    ({"heights": "{finish: {A:99.9}}"}, [(8, 20, '"A:99.9" has no blank after the colon', "A: 99.9")]),
    (
        {"heights": "\n  finish:\n    A: 1,250\n    B: high\n"},
        [
            (10, 8, '"1,250" has a comma in the number', "1250, or 1.250 if the comma is a decimal point"),
            (11, 8, '"high" cannot be read as a height', "a height such as 99.90 ft or 30.450 m"),
        ],
    ),
    (
        {"heights": "{finish: [99.9]}"},
        [(8, 11, '"finish" is a list, and keys are wanted', "finish: {A: 99.90, B: 99.88}")],
    ),
    (
        {"heights": "{finish: 99.9}"},
        [
            (
                8,
                19,
                '"99.9" is not a file of rod readings',
                "heights at points, as in {A: 99.90}, or the name of a .csv file",
            )
        ],
    ),
    ({"heights": "{finish: {}}"}, [(8, 11, '"finish" holds nothing', "finish: {A: 99.90, B: 99.88}")]),
    ({"finish": "{A: 99}"}, [(8, 1, '"finish" is not a key known here', "it belongs under heights or pour")]),
    (
        {"joints": "[{kind: saw cut}]"},
        [
            (
                8,
                10,
                'this entry of "joints" lacks "along", or "from" and "to"',
                "along: [E, [17, 22], [24, 26]], or from: E, to: C",
            )
        ],
    ),
    ({"joints": "[{kind: saw cut, from: A}]"}, [(8, 10, 'this entry of "joints" lacks "to"', "to: C")]),
    ({"joints": "[{kind: saw, from: A, to: C}]"}, [(8, 17, '"kind: saw" is not known here', "saw cut")]),
    (
        {"joints": ""},
        [
            (
                8,
                1,
                '"joints" has no value',
                "joints: [{name: J1, kind: saw cut, from: E, to: [24, 22], depth: 1 1/4 in}], or delete the key",
            )
        ],
    ),
    (
        {"joints": "[{name: J1, kind: saw cut, from: A, to: C}, {name: J1, kind: saw cut, from: A, to: C}]"},
        [(8, 54, 'a second joint is called "J1"; the first is on line 8', "give it another name")],
    ),
    (
        {"joints": "[{kind: saw cut, from: A, along: [A, B], to: C}]"},
        [(8, 26, '"from" does not go with "along"', "keep one of the two")],
    ),
    (
        {"reinforcement": "some"},
        [(8, 16, '"reinforcement: some" is not known here', '{bars: {size: "#4", spacing: 18 in}} or none')],
    ),
    (
        {"reinforcement": "{bars: {size: 4, spacing: 18 in}}"},
        [(8, 30, '"4" does not say which bar is meant', '"#4" if it is eighths of an inch')],
    ),
    (
        {"reinforcement": '{bars: {size: "#12", spacing: 18}}'},
        [
            (8, 30, '"#12" is not a bar size known here', '"#11", if that is meant'),
            (
                8,
                46,
                '"spacing: 18" has no unit',
                "the unit with it, as in 18 in or 450 mm; only points and heights take bare numbers",
            ),
        ],
    ),
    ({"reinforcement": "{mesh: {style: 6x6 10/10}}"}, [(8, 31, '"6x6 10/10" gives the old wire gauge', "6x6 W1.4")]),
    (
        {"reinforcement": "{fiber: {kind: nylon, dose: 1.5}}"},
        [
            (8, 31, '"kind: nylon" is not known here', "one of: micro synthetic, macro synthetic, steel"),
            (
                8,
                44,
                '"dose: 1.5" has no unit',
                "the unit with it, as in 1.5 lb/yd3 or 0.9 kg/m3; only points and heights take bare numbers",
            ),
        ],
    ),
    (
        {"job": "{name: Strip drive, one of two}"},
        [
            (
                2,
                26,
                '"one of two" stands alone, since inside braces a comma ends the value before it',
                'the whole text in quotes, as in name: "Strip drive, one of two"',
            )
        ],
    ),
    (
        {"fixed": "[{name: sill, kind: sill, along: [A, B], height: 100, slab: 1 in below}]"},
        [
            (
                8,
                68,
                '"1 in below" does not say at least, at most or exactly',
                "at least 1 in below, at most 2 in below, 1 in to 3 in below, level, or at least 2 in above",
            )
        ],
    ),
    (
        {"fixed": "[{name: sill, kind: sill, height: 100}]"},
        [(8, 9, 'this entry of "fixed" lacks "along", or "at"', "along: [A, B], or at: A")],
    ),
    (
        {"fixed": "[{name: sill, kind: sill, along: [A, B], height: [100, 99, 98]}]"},
        [(8, 49, "there are 3 heights here", "one height, or 2: one for each point")],
    ),
    (
        {"loads": "[{vehicle: truck, axle: 7000, wheels_per_axle: 2.5}]"},
        [
            (
                8,
                32,
                '"axle: 7000" has no unit',
                "the unit with it, as in 7000 lb or 31 kN; only points and heights take bare numbers",
            ),
            (8, 55, '"wheels_per_axle: 2.5" is not a whole number', "wheels_per_axle: 2"),
        ],
    ),
    (
        {"mix": "{strength: 25 psi, air: 60 %, slump: 4}"},
        [
            (8, 17, '"strength: 25 psi" is out of range: 1500 psi to 10000 psi', "is 25 MPa meant?"),
            (8, 30, '"air: 60 %" is out of range: 0 % to 15 %', "a value from 0 % to 15 %"),
            (
                8,
                43,
                '"slump: 4" has no unit',
                "the unit with it, as in 4 in or 100 mm; only points and heights take bare numbers",
            ),
        ],
    ),
    (
        {"mix": "{strength: 4000}"},
        [
            (
                8,
                17,
                '"strength: 4000" has no unit',
                "the unit with it, as in 4000 psi or 28 MPa; only points and heights take bare numbers",
            )
        ],
    ),
    (
        {"job": "{name: Pad, pour: 14.4.2026}"},
        [(2, 24, '"14.4.2026" is not a date', "the year first, as in 2026-04-14")],
    ),
    (
        {"job": "{name: Pad, pour: 2026-02-30}"},
        [(2, 24, '"2026-02-30" is not a day of the calendar', "year-month-day, as in 2026-04-14")],
    ),
    (
        {"job": "Pad"},
        [(2, 6, '"job" is one value, and keys are wanted', "job: {name: Rowing club trailer bay, pour: 2026-04-14}")],
    ),
    ({"units": "{plan: feet, height: ft}"}, [(3, 15, '"plan: feet" is not known here', "ft")]),
    ({"units": None}, [(1, 1, 'the file lacks "units"', "units: {plan: ft, height: ft}")]),
    ({"units": "ft"}, [(3, 8, '"units" is one value, and keys are wanted', "units: {plan: ft, height: ft}")]),
    ({"job": '{name: ""}'}, [(2, 13, '"name" holds nothing', "name: Rowing club trailer bay")]),
    (
        {"plumbing": "{spoil: 3}"},
        [
            (
                8,
                1,
                '"plumbing" is not a key known here',
                "the keys here are format, job, units, use, site, points, outline, openings, parts, edges, heights, "
                "fixed, fixtures, channels, embedded, measured, thickness, joints, reinforcement, loads, line_loads, "
                "stalls, mix, order, dig, prices, pour, permit, variances",
            )
        ],
    ),
    (
        {"pour": "{start: 7, until: 25:00, rate: 20, curing: {rate: 200 ft2}, haul: 25}"},
        [
            (8, 15, '"7" is not a time of day', '"07:00", or "3:30 pm"'),
            (8, 25, '"25:00" is not on the clock', '"07:00", or "3:30 pm"'),
            (
                8,
                38,
                '"rate: 20" has no unit',
                "the unit with it, as in 20 yd3/h or 15 m3/h; only points and heights take bare numbers",
            ),
            (8, 42, '"curing" lacks "method"', "method: compound"),
            (8, 57, '"ft2" is a unit of area, not of coverage', "a coverage such as 200 ft2/gal or 5 m2/L"),
            (
                8,
                73,
                '"haul: 25" has no unit',
                "the unit with it, as in 25 min; only points and heights take bare numbers",
            ),
        ],
    ),
    (
        {"prices": "{concrete: 165, pump: 20 per yd3, bars: 2 per ft, base: cheap}"},
        [
            (8, 20, '"165" does not say what it is for', "165 per yd3, or 210 per m3"),
            (8, 31, '"20 per yd3" is a price by yd3, and this is counted', "450 each"),
            (8, 49, '"2 per ft" is not a price by mass', "1.10 per lb, or 38 per ton"),
            (8, 65, '"cheap" is not a price', "1.10 per lb, or 38 per ton"),
        ],
    ),
    (
        {"thickness": "{design: 4 in, steps: [{width: 4 ft, tread: 12 in, riser: 7 in, count: 0}]}"},
        [(7, 83, '"count: 0" is out of range', "a whole number from 1 to 60")],
    ),
    (
        {"thickness": "{design: 4 in, form_board: 2x5}"},
        [
            (
                7,
                39,
                '"2x5" is not a board size known here',
                "2x3, 2x4, 2x6, 2x8, 2x10 or 2x12, or the real depth of the board such as 5 1/2 in",
            )
        ],
    ),
    (
        {"heights": "{falls: [{along: [A, B, C], fall: 30 %}]}"},
        [
            (8, 20, '"along" has 3 entries, and at most 2 are wanted', "along: [A, D]"),
            (8, 44, '"fall: 30 %" is out of range: 0 % to 25 %', "is 30 mm/m meant?"),
        ],
    ),
    ({"mix": "{water_cement: 45 %}"}, [(8, 21, '"45 %" is a share, and a ratio has no unit', "0.45")]),
    (
        {"fixtures": "[{kind: drain}, {kind: post, at: [1], rim: 3}]"},
        [(8, 44, "a spot is two numbers, x and y, and this has 1", "two numbers, as in [12, 3]")],
    ),
    (
        {"heights": "{base: ../x.csv}"},
        [
            (
                8,
                17,
                '"../x.csv" leads out of the folder of this design',
                "its name alone, with the file beside the design",
            )
        ],
    ),
    (
        {"heights": "{base: /etc/passwd}"},
        [
            (
                8,
                17,
                '"/etc/passwd" is not a file of rod readings',
                "heights at points, as in {A: 99.90}, or the name of a .csv file",
            )
        ],
    ),
    ({"heights": "{base: none.csv}"}, [(8, 17, "none.csv: there is no such file", "check the name and the folder")]),
    ({"openings": "[{corners: [[1, 1], [2, 1]]}]"}, [(8, 13, "2 corners make no shape", "at least 3 corners")]),
    (
        {"variances": "[{rule: x, reason: y, accepted_by: z}]"},
        [(8, 13, 'this entry of "variances" lacks "date"', "date: 2026-03-30")],
    ),
    (
        {"reinforcement": "{bars: {size: 1/2 in, spacing: 18 in}}"},
        [(8, 30, "1/2 in is a diameter, and bars go by number", '"#4"')],
    ),
    (
        {"joints": "[~]"},
        [
            (
                8,
                10,
                "this entry is empty",
                "{name: J1, kind: saw cut, from: E, to: [24, 22], depth: 1 1/4 in}, or delete the entry",
            )
        ],
    ),
    (
        {"joints": "\n  -\n  - {kind: CJ, from: A, to: C}"},
        [
            (
                9,
                4,
                "this entry is empty",
                "{name: J1, kind: saw cut, from: E, to: [24, 22], depth: 1 1/4 in}, or delete the entry",
            ),
            (
                10,
                12,
                '"kind: CJ" is not known here',
                "saw cut or tooled groove if a control joint is meant, construction joint if the pour stops there",
            ),
        ],
    ),
    (
        {"points": "{A: [0, [1]], B: [12, 0], C: [12, 10], D: [0, 10]}"},
        [(5, 17, 'this entry of "A" is a list, and one value is wanted', "12")],
    ),
    (
        {"edges": "[{run: [A, B], beside: building, isolation: }]"},
        [
            (
                8,
                41,
                '"isolation" has no value',
                "isolation: {material: foam, thickness: 1/2 in, depth: full}, or delete the key",
            )
        ],
    ),
    (
        {"edges": "[{run: [A, B], beside: building, isolation: [foam]}]"},
        [
            (
                8,
                41,
                '"isolation" is a list, and keys are wanted',
                "isolation: {material: foam, thickness: 1/2 in, depth: full}",
            )
        ],
    ),
    (
        {"edges": "[lawn]"},
        [
            (
                8,
                9,
                'this entry of "edges" is one value, and keys are wanted',
                "{run: [A, B], beside: building, name: workshop wall}",
            )
        ],
    ),
    (
        {"edges": "[[A, B]]"},
        [
            (
                8,
                9,
                'this entry of "edges" is a list, and keys are wanted',
                "{run: [A, B], beside: building, name: workshop wall}",
            )
        ],
    ),
    (
        {"heights": "finish"},
        [
            (
                8,
                10,
                '"heights" is one value, and keys are wanted',
                "heights: {datum: workshop sill = 100.00, finish: {A: 99.90, B: 99.88}}",
            )
        ],
    ),
    ({"heights": "{benches: {BM: }}"}, [(8, 21, '"BM" has no value', "BM: 100.00, or delete the key")]),
    (
        {"heights": "{finish: {A: [1, 2]}}"},
        [
            (
                8,
                20,
                '"A" is a list, and one value is wanted',
                "one height; a slab on two levels is two files, each with the other "
                "level as an edge with planned_step: true, and the flight between them under thickness, steps",
            )
        ],
    ),
    (
        {"outline": "{A: B}"},
        [
            (
                6,
                1,
                '"outline" holds keys, and a list is wanted',
                "start its entry with a dash, as in outline: [A, B, C, D]",
            )
        ],
    ),
    (
        {"outline": "[A, B, {C: D}]"},
        [
            (6, 17, 'this entry of "outline" lacks "arc_to"', "arc_to: C"),
            (6, 17, 'this entry of "outline" lacks "through"', "through: M"),
            (6, 18, '"C" is not a key known here', "the keys here are arc_to, through"),
        ],
    ),
    ({"outline": "[]"}, [(6, 1, '"outline" has no entries, and at least 2 are wanted', "outline: [A, B, C, D]")]),
    (
        {"fixtures": "[{kind: siding, at: A}]"},
        [(8, 19, '"kind: siding" is not known here', "it belongs under fixed, as kind: siding")],
    ),
    (
        {"fixtures": "[{kind: drain, at: [A]}]"},
        [
            (
                8,
                30,
                "a spot is two numbers, x and y, and this has 1",
                "A without brackets, if it is a point, or two numbers, as in [12, 3]",
            )
        ],
    ),
    ({"fixtures": "[{kind: drain, at: {x: 1}}]"}, [(8, 26, '"at" holds keys, and a list is wanted', "at: [12, 3]")]),
    (
        {"joints": "[{kind: expansion joint, from: A, to: B}]"},
        [
            (
                8,
                17,
                '"kind: expansion joint" is not known here',
                "isolation under edges where it lies at the rim; formed strip with isolation where it crosses the slab",
            )
        ],
    ),
    (
        {"thickness": "{design: 4in, thickened_edges: {run: [A, B], depth: 8 in, taper: 3 ft}}"},
        [
            (
                7,
                26,
                '"thickened_edges" holds keys, and a list is wanted',
                "start its entry with a dash, as in thickened_edges: [{run: [C, D], depth: 8 in, taper: 3 ft}]",
            )
        ],
    ),
    (
        {"thickness": "{design: 4 in, thickened_edges: [{run: [A, B], depht: 8 in}]}"},
        [
            (
                7,
                45,
                'this entry of "thickened_edges" lacks "taper"',
                "taper: 3 ft, or taper: 0 in where the edge is dug square",
            ),
            (7, 59, '"depht" is not a key known here', "depth"),
        ],
    ),
    ({"order": "{allowance_inside: 5 %}"}, [(8, 27, '"allowance_inside: 5 %" is neither yes nor no', "true or false")]),
    ({"job": "{name: [a]}"}, [(2, 7, '"name" is a list, and one value is wanted', "name: Rowing club trailer bay")]),
    (
        {"reinforcement": "{}"},
        [(8, 1, '"reinforcement" holds nothing', 'reinforcement: {bars: {size: "#4", spacing: 18 in}}')],
    ),
    (
        {"reinforcement": "[none]"},
        [
            (
                8,
                1,
                '"reinforcement" is a list, and keys are wanted',
                'reinforcement: {bars: {size: "#4", spacing: 18 in}}',
            )
        ],
    ),
    (
        {"points": "{}"},
        [
            (5, 1, '"points" holds nothing', "points: {A: [0, 0], B: [24, 0], C: [24, 40]}"),
            (6, 11, 'there is no point called "A"', "name it under points first"),
            (6, 14, 'there is no point called "B"', "name it under points first"),
            (6, 17, 'there is no point called "C"', "name it under points first"),
            (6, 20, 'there is no point called "D"', "name it under points first"),
        ],
    ),
    (
        {"points": '{"": [0, 0], A: [0, 0], B: [1, 0], C: [1, 1], D: [0, 1]}'},
        [(5, 1, '"points" holds a name with no letters', "a name before the colon")],
    ),
    (
        {"job": "{name: Pad, 5: x}"},
        [(2, 18, '"5" is not a key known here', "the keys here are name, number, pour, revision, reviewed_by, notes")],
    ),
    (
        {"heights": "{finish: {A: 99.9 ft in}}"},
        [(8, 23, '"ft in" is not a unit known here', "99.9 in if that is meant")],
    ),
    ({"order": "{truck: 1 yd}"}, [(8, 16, '"yd" is a unit of length, not of volume', "1 yd3")]),
    (
        {"site": "{soil: clay}"},
        [(8, 14, '"soil" is one value, and keys are wanted', "soil: {kind: silty sand, support: 150 pci}")],
    ),
    (
        {"points": '{A: ["0", 0], B: [12, 0], C: [12, 10], D: [0, 10]}'},
        [(5, 14, '"0" has no unit', "0 ft, 0 in, 0 m or 0 mm")],
    ),
    (
        {"heights": "{falls: [{along: [A], fall: 2 %}]}"},
        [(8, 20, '"along" has 1 entry, and at least 2 are wanted', "along: [A, D]")],
    ),
    (
        {"loads": "[{vehicle: car, axle: 20 lb, wheels_per_axle: 2}]"},
        [(8, 30, '"axle: 20 lb" is out of range: 100 lb to 200000 lb', "is 20 kN meant?")],
    ),
    (
        {"loads": "{vehicle: car}"},
        [
            (
                8,
                1,
                '"loads" holds keys, and a list is wanted',
                "start its entry with a dash, as in loads: [{vehicle: trailer, axle: 7000 lb, wheels_per_axle: 2}]",
            )
        ],
    ),
    (
        {"mix": "4000 psi"},
        [(8, 6, '"mix" is one value, and keys are wanted', "mix: {strength: 4000 psi, air: 6 %, slump: 4 in}")],
    ),
    (
        {"mix": "{strengh: 4000 psi, slum: 4 in}"},
        [(8, 7, '"strengh" is not a key known here', "strength"), (8, 26, '"slum" is not a key known here', "slump")],
    ),
    ({"outline": "[A, B, C, D"}, [(6, 10, "the [ here is never closed, or a comma is missing in it", "] at its end")]),
    ({"joints": "[{kind: saw cut, from: A, to: C, depth: 1/4}]"}, [(8, 49, '"1/4" has no unit', "1/4 in or 1/4 mm")]),
    ({"form": "1"}, [(8, 1, '"form" is not a key known here', "format")]),
    ({"Thickness": "{design: 4 in}", "thickness": None}, [(7, 1, '"Thickness" is not a key known here', "thickness")]),
    # the trade's other words for keys
    (
        {"steel": "{rebar: x}"},
        [(8, 1, '"steel" is not a key known here', 'reinforcement: {bars: {size: "#4", spacing: 18 in}}')],
    ),
    ({"outline": None, "shape": "[A, B, C, D]"}, [(7, 1, '"shape" is not a key known here', "outline: [A, B, C, D]")]),
    (
        {"points": None, "outline": None, "size": "12 ft x 10 ft"},
        [
            (
                6,
                1,
                '"size" is not a key known here',
                "points: {A: [0, 0], B: [24, 0], C: [24, 40]}, and outline: [A, B, C, D]; "
                "slabwright begin works them out from a size",
            )
        ],
    ),
    ({"thickness": None, "depth": "4 in"}, [(7, 1, '"depth" is not a key known here', "thickness: {design: 4 in}")]),
    ({"thickness": None, "depth": "four"}, [(7, 1, '"depth" is not a key known here', "thickness: {design: 5 in}")]),
    (
        {"heights": "{A: 100.00, B: 99.85}"},
        [(8, 11, '"A" is a point, and no key that can stand here', "finish: {A: 100.00, B: 99.85}")],
    ),
    (
        {"fixtures": "[{kind: door, at: A, leaf: 36 in}]"},
        [(8, 32, '"leaf" is not a key known here', "width: 36 in")],
    ),
    (
        {"fixtures": "[{kind: roller door, at: A, width: 16 ft}]"},
        [(8, 19, '"kind: roller door" is not known here', "door, with name: roller door")],
    ),
    (
        {"fixtures": "[{kind: door, at: [50, 50], width: 3 ft}]"},
        [
            (
                8,
                39,
                "no side of the slab is near this door, so its width has no direction",
                "along: [[4, 0], [7, 0]] in place of at and width",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: door, at: A, along: [A, B], width: 3 ft}]"},
        [(8, 47, '"width" does not go with "along"', "keep one of the two")],
    ),
    (
        {"fixtures": "[{kind: post, at: A, width: 3 ft}]"},
        [(8, 32, '"width" belongs to a door or gate, and this is a post', "delete it, or change the kind")],
    ),
    (
        {"mix": "{air: none}"},
        [
            (
                8,
                12,
                '"none" cannot be read as a share',
                'a share such as 5 %, or leave "air" out where there is none',
            )
        ],
    ),
    ({"edges": "[{along: [C, D, A], beside: lawn}]"}, [(8, 10, '"along" is not a key known here', "run: [C, D, A]")]),
    (
        {"mix": "{psi: 4000}", "air_content": "6 %"},
        [
            (8, 7, '"psi" is not a key known here', "strength: 4000 psi"),
            (9, 1, '"air_content" is not a key known here', "under mix, air: 6 %"),
        ],
    ),
    (
        {"joints": "[{kind: saw cut, start: A, end: C}]"},
        [
            (8, 26, '"start" is not a key known here', "from: A"),
            (8, 36, '"end" is not a key known here', "to: C"),
        ],
    ),
    (
        {"edges": "[{house: wall, side: [A, B]}]"},
        [
            (8, 10, '"house" is not a key known here', "beside: building"),
            (8, 23, '"side" is not a key known here', "run: [A, B]"),
        ],
    ),
    (
        {"edges": "[{rest: lawn, wheels_cross: true}]"},
        [
            (
                8,
                22,
                '"wheels_cross" does not go with "rest"',
                'run: [A, B], beside: lawn in place of "rest"',
            )
        ],
    ),
    (
        {"joints": "{kind: saw cut, spacing: 10 ft}"},
        [
            (
                8,
                1,
                '"joints" holds keys, and a list is wanted',
                "from and to of each joint; slabwright propose joints FILE lays them out",
            )
        ],
    ),
    (
        {"pour": "2027-05-05"},
        [(8, 7, '"pour" is one value, and keys are wanted', "under job, pour: 2027-05-05")],
    ),
    (
        {"openings": "[{center: [4, 4], diameter: 3 ft}]"},
        [
            (
                8,
                at,
                f'"{key}" is not a key known here',
                "corners: [{arc_to: [4.4, 1.9], through: [4, 2.3]}, {arc_to: [3.6, 1.9], through: [4, 1.5]}], "
                "two halves of a circle",
            )
            for at, key in ((13, "center"), (29, "diameter"))
        ],
    ),
    (
        {"mix": "{calcium_chloride: 2 %}"},
        [
            (
                8,
                7,
                '"calcium_chloride" is not a key known here',
                "chloride: 1 %, the ion alone, for 2 % of calcium chloride flakes; "
                "leave out an accelerator without chloride",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: door, width: 3 ft, threshold: 100}]"},
        [
            (8, 38, '"threshold" is not a key known here', "sill, the height of the top of the threshold"),
        ],
    ),
    (
        {"heights": "{finish: {A: 100}, falls: [{from: A, to: C, fall: 2 %}]}"},
        [
            (8, 38, '"from" is not a key known here', "along: [A, B], with both ends in the one list"),
            (8, 47, '"to" is not a key known here', "along: [A, B], with both ends in the one list"),
        ],
    ),
    (
        {"posts": "[{at: [4, 4]}]"},
        [(8, 1, '"posts" is not a key known here', "fixtures: [{kind: post, at: [12, 3], box_out: round}]")],
    ),
    (
        {"order": "{volume: 5 yd3, interval: 40 min}"},
        [(8, 24, '"interval" is not a key known here', "pour: {trucks_apart: 40 min}")],
    ),
    ({"site": "{accessible: true}"}, [(8, 8, '"accessible" is not a key known here', "accessible_route")]),
    ({"pour": "{weather: {high: 72 °F}}"}, [(8, 18, '"high" is not a key known here', "air: 72 °F")]),
    (
        {"heights": "{finish: {A: 100}, slope: 2 %}"},
        [
            (
                8,
                29,
                '"slope" is not a key known here',
                "finish, with a height at each corner, which the fall is worked out from; "
                "a fall as typed on a sketch is checked against them by falls: [{along: [A, B], fall: 2 %}]",
            )
        ],
    ),
    (
        {"line_loads": "[{name: partition, from: A, to: C, load: 300 lb/ft}]"},
        [
            (8, 32, '"from" is not a key known here', "along: [A, B], with both ends in the one list"),
            (8, 41, '"to" is not a key known here', "along: [A, B], with both ends in the one list"),
        ],
    ),
    (
        {"fixtures": "[{kind: drain, at: [4, 4], pipe: 4 in}]"},
        [
            (
                8,
                44,
                '"pipe: 4 in" is out of range: 1 ft to 3000 ft',
                "how far the pipe runs to where it lets out; how wide it is, is not asked",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: drain, at: [4, 4], outlet: {height: 98.6}}]"},
        [
            (
                8,
                38,
                '"outlet" holds keys, and one value is wanted',
                "outlet, the height where the pipe lets out; how far the pipe runs goes under pipe",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: drain, along: [A, C]}]"},
        [
            (
                8,
                12,
                "this drain does not say where it is",
                "under channels, with along and width, for a drain along a line; at: [12, 3] for a drain at a spot",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: post, at: [4, 4], box_out: 12 in}]"},
        [
            (
                8,
                46,
                '"box_out: 12 in" is not known here',
                "round, square or turned square; its size goes under box_out_size",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: rail, at: A}]"},
        [
            (
                8,
                19,
                '"kind: rail" is not known here',
                "it belongs under edges, as guard, its height, or under thickness, steps, as handrail: true",
            )
        ],
    ),
    (
        {"fixtures": "[{kind: door, at: A, swing: in}]"},
        [
            (
                8,
                32,
                '"swing" is not a key known here',
                "swings_over: true where it swings out over the slab, false where it does not",
            )
        ],
    ),
    (
        {"thickness": "{design: 4 in, steps: [{width: 4 ft, tread: 12 in, risers: 3}]}"},
        [
            (
                7,
                71,
                '"risers" is one value, and a list is wanted',
                "count, how many, and riser, the height of each; or a list of their heights",
            )
        ],
    ),
    (
        {"thickness": "{design: 4 in, steps: [{width: 4 ft, tread: 12 in, riser: 6 in, count: 3, from: A}]}"},
        [(7, 86, '"from" is not a key known here', "foot: [S, T], the two ends of the lowest nosing")],
    ),
    (
        {"openings": "[{beside: pool, corners: [[2, 2], [4, 2], [4, 4]]}]"},
        [(8, 13, '"beside" is not a key known here', "holds: pool, or what else stands in it")],
    ),
    (
        {"site": "{fill: {depth: 20 in}}"},
        [
            (
                8,
                15,
                '"depth" is not a key known here',
                "leave it out, and write heights.existing, which the depth of the fill is worked out from",
            )
        ],
    ),
    (
        {"site": "{soil: {plasticity_index: 45}}"},
        [
            (
                8,
                15,
                '"plasticity_index" is not a key known here',
                "kind: expansive clay, where the soils report says that it swells",
            )
        ],
    ),
    (
        {"site": "{base: {retarder: 10 mil}}"},
        [(8, 15, '"retarder" is not a key known here', "retarder under order, with the rolls it comes in")],
    ),
    (
        {"site": "{trees: [{at: [20, 4], trunk: 20 in, height: 40 ft}]}"},
        [
            (
                8,
                30,
                '"trunk" is not a key known here',
                "height, how tall the tree is, which the reach of its roots is taken from",
            )
        ],
    ),
    (
        {"site": "{lot: {outline: [A, B, C]}}"},
        [
            (
                8,
                14,
                '"outline" is not a key known here',
                "lines: [{kind: side, along: [A, B]}], for the lines of the lot near the slab",
            )
        ],
    ),
    (
        {"dig": "{loads: 2}"},
        [(8, 7, '"loads" is not a key known here', "leave it out; the loads are worked out from box and payload")],
    ),
    (
        {"pour": "{first_use: {vehicles: 3 days}}"},
        [(8, 20, '"vehicles" is not a key known here', "feet, cars or heavy")],
    ),
    ({"pour": "{curing: {method: wet burlap}}"}, [(8, 25, '"method: wet burlap" is not known here', "wet cover")]),
    (
        {"mix": "{cement: Type I}"},
        [
            (
                8,
                15,
                '"Type I" cannot be read as a unit weight',
                "how much cement there is in the concrete, with its unit; its kind goes under cement_type",
            )
        ],
    ),
]
