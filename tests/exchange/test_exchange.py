"""In and out by open formats: read by general libraries, and round trips that give the same slab.

GeoJSON is held against RFC 7946 by ``geojson`` and ``shapely``, LandXML 1.2 by ``lxml`` against the element order and
attributes of its schema (LandXML-1.2.xsd, recalled, not checked).
"""

from __future__ import annotations

from pathlib import Path

import geojson
import numpy as np
import pytest
import shapely
from lxml import etree
from slabwright.cli.main import main
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.source.locate import folder

FOOT = 0.3048  # m, exactly
JOBS = sorted((folder("example_designs") / "jobs").glob("*.slab.yaml"))
PARTED = """format: 1
job: {name: Clinic yard}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [60, 0], C: [60, 40], D: [0, 40], M: [30, 0], N: [30, 40]}
outline: [A, B, C, D]
edges: [{run: [D, C], beside: building, name: clinic}, {rest: lawn}]
heights: {finish: {A: 99.4, B: 99.4, C: 100, D: 100}}
fixtures: [{kind: door, name: front door, along: [[3, 40], [7, 40]], sill: 102}]
parts:
  - {name: walk, corners: [[0, 30], [20, 30], [20, 40], [0, 40]], use: walk, thickness: 4 in}
  - {name: lane, corners: [[30, 0], [60, 0], [60, 18], [30, 18]], thickness: 8 in}
thickness:
  design: 6 in
  steps:
    - {name: stoop, width: 4 ft, tread: 12 in, riser: 6 in, count: 3, foot: [[3, 37], [7, 37]], climbs_to: [5, 40]}
channels: [{name: channel to the manhole, along: [[20, 20], [60, 20]], width: 6 in, rim: 99.7}]
stalls:
  - name: van stall
    kind: van
    corners: [[20, 22], [31, 22], [31, 40], [20, 40]]
    aisle: [[31, 22], [36, 22], [36, 40], [31, 40]]
joints: [{name: J1, along: [M, N], kind: construction joint}]
pour:
  - {name: west half, day: 2026-05-04, corners: [A, M, N, D]}
  - {name: east half, day: 2026-05-11, corners: [M, B, C, N]}
"""
SURVEY = """\
point,northing (ft),easting (ft),height (ft),description
1,1000,500,100.00,corner
2,1000,520,100.00,corner
3,1040,520,99.20,corner
4,1040,500,99.20,corner
5,1020,500,99.60,joint J1
6,1020,520,99.60,joint J1
"""


RING = "[[0, 0], [9, 0], [9, 9], [0, 9], [0, 0]]"


def shapes(geometry: str, kind: str = "") -> str:
    """A drawing of one shape, in meters."""
    feature = f'{{"geometry": {{"type": {geometry}}}, "properties": {{"kind": "{kind}"}}}}'
    return f'{{"units": "m", "features": [{feature}]}}'


def begun(folder_of: Path, name: str, text: str, *more: str) -> Path:
    """The design begun from a file of this name and text."""
    source, out = folder_of / name, folder_of / f"{Path(name).stem}_begun.slab.yaml"
    source.write_text(text, encoding="utf-8")
    assert main(["begin", "--from", str(source), "--use", "patio", "--out", str(out), *more]) == 0
    return out


def drawn(design: Path, suffix: str) -> str:
    out = design.with_suffix(suffix)
    assert main(["draw", str(design), "--out", str(out)]) == 0
    return out.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    [
        SURVEY,
        SURVEY.replace(",", "\t"),
        SURVEY.replace(",", ";").replace(".", ","),
        SURVEY.replace("northing (ft)", "N").replace("easting (ft)", "E").replace("height (ft)", "elev [ft]"),
        "# units: feet\n" + SURVEY.partition("\n")[2],
    ],
    ids=["comma", "tab", "semicolon and decimal comma", "other names", "no heading"],
)
def test_a_survey_becomes_a_design_that_reviews(tmp_path: Path, text: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = begun(tmp_path, "survey.csv", text)

    design, questions = read_design(path)
    plan = Plan(design)
    assert questions == ()
    assert plan.shape.area == pytest.approx(20 * 40 * FOOT**2)
    assert plan.finish.at((510 * FOOT, 1010 * FOOT)) == pytest.approx(99.80 * FOOT)  # a quarter of the way down
    assert len(plan.panels.all) == 2
    assert main(["review", str(path)]) in (0, 1)
    assert "20' x 20'" in (told := capsys.readouterr().out) or "panel" in told


@pytest.mark.parametrize(
    ("was", "now", "asked"),
    [
        ("4,1040,500", "3,1040,500", 'point "3" is there twice; first on line 4'),
        ("520,99.20", "520,", 'point "3" has no height'),
        ("4,1040,500", "4,500,1040", 'northing and easting of point "4" seem to be swapped'),
        ("4,1040,500", "4,316.99,152.4", 'point "4" seems to be in meters, and all others in feet'),
        ("520,99.20", "520,30.24", 'the height of point "3", 30.24, seems to be in meters'),
        ("520,99.20", "520,30.24 m", 'the height of point "3" is in m, and the file in ft'),
        ("easting (ft)", "easting (m)", "feet and meters are mixed between the columns"),
        (" (ft)", "", "this file does not say whether it is in feet or meters"),
        ("4,1040,500", "4,1000,500.01", 'point "4" lies at the same place as "1" on line 2'),
        ("4,1040,500", "4,1040,5oo", "the easting of point \"4\" is '5oo', which is no number"),
        ("northing", "norden", "the heading names no column northing"),
        ("corner", "corner" + "x" * 2000, "line 2 of this file is longer than 1,000 letters"),
        ("4,1040,500", "4,9000,500", "the slab would be 8,000 ft long out to P4"),
        ("corner", "joint X", "the file does not say which points are the corners"),
        ("1040,500,99.20", "1040,00,500,00,99,20", "this line has decimal commas, and commas between its columns"),
        ("4,1040,500", "4,1020,530", "the corners do not go around a slab in the order P1, P2, P3, P4"),
    ],
)
def test_what_is_doubtful_in_a_survey_is_asked_by_name(
    tmp_path: Path, was: str, now: str, asked: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert was in SURVEY
    (tmp_path / "survey.csv").write_text(SURVEY.replace(was, now), encoding="utf-8")

    assert main(["begin", "--from", str(tmp_path / "survey.csv"), "--use", "patio"]) == 2
    assert asked in " ".join(capsys.readouterr().err.split())


def test_parts_stalls_channels_flights_and_pours_come_back(tmp_path: Path) -> None:
    """Out as GeoJSON, in as a new design, out again: the same features, and the design's own words in them."""
    path = tmp_path / "yard.slab.yaml"
    path.write_text(PARTED, encoding="utf-8")
    text = drawn(path, ".geojson")
    back = begun(tmp_path, "yard.geojson", text)
    again = geojson.loads(drawn(back, ".geojson"))
    marked = ("part", "stall", "aisle", "pour", "channel", "steps")

    def of(collection: geojson.FeatureCollection) -> list[object]:
        return [(one.properties, one.geometry) for one in collection.features if one.properties["kind"] in marked]

    before = of(geojson.loads(text))
    assert sorted(properties["kind"] for properties, _ in before) == sorted([*marked, "part", "pour"])
    assert of(again) == before
    design, _ = read_design(back)
    assert [(part.name, part.use, part.thickness.typed) for part in design.parts if part.thickness] == [
        ("walk", "walk", "4 in"),
        ("lane", None, "8 in"),
    ]
    assert design.thickness.steps[0].each == pytest.approx((6 * FOOT / 12,) * 3)
    assert [pour.day.isoformat() for pour in design.pours if pour.day] == ["2026-05-04", "2026-05-11"]
    assert design.channels[0].rim[0].si == pytest.approx(99.7 * FOOT)


def test_what_a_feature_says_stays_a_value(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name or an amount of a GeoJSON file cannot write keys of the design."""
    path = tmp_path / "yard.slab.yaml"
    path.write_text(PARTED, encoding="utf-8")
    text = (
        drawn(path, ".geojson").replace('"van stall"', '"x\\"}\\nuse: walk #"').replace('"8 in"', '"8 in}, use: walk"')
    )
    (tmp_path / "bad.geojson").write_text(text, encoding="utf-8")
    assert main(["begin", "--from", str(tmp_path / "bad.geojson"), "--use", "patio"]) == 2
    assert '"in}, use: walk" is not a unit' in " ".join(capsys.readouterr().err.split())


def test_what_a_survey_calls_by_no_known_word_is_told_in_the_design(tmp_path: Path) -> None:
    text = begun(
        tmp_path, "survey.csv", SURVEY + "7,1010,510,99.8,finish by eye\n8,1030,510,99.4,old nail\n"
    ).read_text()

    assert "for their descriptions are not known; leave out what is none: P8 (old nail)\n" in text


def test_a_number_that_is_none_is_told_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "survey.csv").write_text(SURVEY.replace("520,99.20", "520,nan"))

    assert main(["begin", "--from", str(tmp_path / "survey.csv"), "--use", "patio"]) == 2
    assert capsys.readouterr().err.count('point "3"') == 1


@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_geojson_goes_out_and_comes_back_as_the_same_slab(tmp_path: Path, job: Path) -> None:
    before = Plan(read_design(job)[0])
    path = tmp_path / "job.slab.yaml"
    for companion in job.parent.glob("*.csv"):
        (tmp_path / companion.name).write_bytes(companion.read_bytes())
    path.write_bytes(job.read_bytes())

    text = drawn(path, ".geojson")

    read = geojson.loads(text)
    assert isinstance(read, geojson.FeatureCollection) and read.is_valid, read.errors()
    size = FOOT if read["units"] == "ft" else 1.0
    slab = shapely.geometry.shape(next(one.geometry for one in read.features if one.properties["kind"] == "slab"))
    assert slab.is_valid and slab.exterior.is_ccw  # RFC 7946, section 3.1.6
    assert slab.area * size**2 == pytest.approx(before.shape.area, rel=1e-6)

    lacks_heights = bool(before.finish.missing) or before.shape.ring.along[-1] == 0
    if lacks_heights or any(corner.through for corner in before.design.outline):
        return  # chords of arcs have no heights of their own, which is asked about
    after = Plan(read_design(begun(tmp_path, "back.geojson", text))[0])
    assert after.shape.area == pytest.approx(before.shape.area, rel=1e-6)
    if not before.design.channels:  # which part a slab too, and for which a survey has no word
        assert len(after.panels.all) == len(before.panels.all)
    if before.finish.surface and after.finish.surface:
        spots = np.array(before.finish.surface.mesh.xy)
        assert after.finish.surface.height(spots) == pytest.approx(before.finish.surface.height(spots), abs=1e-4)


def test_geojson_of_another_program_is_read_by_its_shapes(tmp_path: Path) -> None:
    """A polygon is the outline, holes are openings, lines are joints, points with heights are shots."""
    made = geojson.FeatureCollection(
        [
            geojson.Feature(geometry=geojson.Polygon([
                [(0, 0), (20, 0), (20, 40), (0, 40), (0, 0)], [(5, 5), (5, 7), (7, 7), (7, 5), (5, 5)]
            ])),
            geojson.Feature(geometry=geojson.MultiLineString([[(0, 20), (20, 20)]])),
            geojson.Feature(geometry=None),  # without a place: RFC 7946, section 3.2
            *(
                geojson.Feature(geometry=geojson.Point((x, y, 100 - y / 50)))
                for x, y in ((0, 0), (20, 0), (20, 40), (0, 40))
            ),
        ]
    )  # fmt: skip
    plan = Plan(read_design(begun(tmp_path, "plan.geojson", geojson.dumps(made), "--units", "ft"))[0])

    assert plan.shape.area == pytest.approx((800 - 4) * FOOT**2)
    assert len(plan.panels.all) == 2 and len(plan.shape.opening_rings) == 1
    assert plan.finish.at((10 * FOOT, 30 * FOOT)) == pytest.approx(99.4 * FOOT)


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("{", "this file is not JSON, line 1"),
        ('{"type": "Point"}', "this file is no collection of features"),
        ('{"features": []}', "does not say whether it is in feet or meters"),
        ('{"units": "ft", "features": [{"geometry": {"type": "Polygon", "coordinates": [[[0, 0], [1, "x"]]]}}]}',
         "feature 1 has coordinates that are no positions"),
        ('{"units": "m", "features": [{"geometry": {"type": "Polygon", "coordinates": '
         "[[[8.51, 47.1], [8.511, 47.1], [8.511, 47.101], [8.51, 47.1]]]}}]}", "these seem to be degrees"),
        ('{"units": "m", "features": [{"geometry": {"type": "Polygon", "coordinates": '
         "[[[0, 0], [NaN, 1], [1, 1], [0, 0]]]}}]}", "feature 1 has coordinates that are no positions"),
        ('{"units": "m", "features": ' + "[" * 3000, "this file is not JSON"),
        (shapes('"Polygon", "coordinates": [[[0, 0], [9, 0], [9, 9], [0, 9]]]'),
         "feature 1 has a ring that does not end where it begins"),
        (shapes('"GeometryCollection", "geometries": []'), "feature 1 is a GeometryCollection, which is not read"),
        (shapes(f'"MultiPolygon", "coordinates": [[{RING}], [{RING}]]'), "feature 1 is a second polygon"),
        (shapes('"LineString", "coordinates": [[0, 1], [9, 1]]', "vally"), 'is a line of the kind "vally"'),
        (shapes('"Point", "coordinates": [0, 1, 9]', "tree"), 'is a height of the kind "tree", which is not known'),
        (shapes('"Point", "coordinates": [0, 1]'), "feature 1 is a point without a height"),
        (shapes('"MultiPoint", "coordinates": [[0, 1, 9.0], [0, 1, 9.1]]'), 'two heights lie at "P1": 9 and 9.1'),
    ],
)  # fmt: skip
def test_geojson_that_cannot_be_used_is_refused(
    tmp_path: Path, text: str, asked: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "plan.geojson").write_text(text, encoding="utf-8")

    assert main(["begin", "--from", str(tmp_path / "plan.geojson"), "--use", "patio"]) == 2
    assert asked in " ".join(capsys.readouterr().err.split())


def test_landxml_holds_the_surfaces_as_worked(tmp_path: Path) -> None:
    job = begun(tmp_path, "survey.csv", SURVEY + "7,1001,501,99.6,base\n8,1039,501,98.8,base\n9,1020,519,99.2,base\n")
    plan = Plan(read_design(job)[0])

    root = etree.fromstring(drawn(job, ".xml").encode())

    space = {"l": "http://www.landxml.org/schema/LandXML-1.2"}
    assert root.tag == f"{{{space['l']}}}LandXML" and root.get("version") == "1.2" and root.get("date")
    assert [etree.QName(one).localname for one in root] == ["Units", "Project", "Application", "Surfaces"]
    assert root.find("l:Units/l:Imperial", space).get("linearUnit") == "foot"
    surfaces = root.findall("l:Surfaces/l:Surface", space)
    assert [one.get("name") for one in surfaces] == ["finish", "base"]
    for one, worked in zip(surfaces, (plan.finish.surface, plan.concrete.base_surface), strict=True):
        assert one.find("l:Definition", space).get("surfType") == "TIN"
        points = {p.get("id"): [float(v) for v in p.text.split()] for p in one.iterfind(".//l:P", space)}
        faces = [[points[corner] for corner in f.text.split()] for f in one.iterfind(".//l:F", space)]
        area = sum(shapely.Polygon([(e, n) for n, e, _ in face]).area for face in faces)
        assert area * FOOT**2 == pytest.approx(float(worked.areas.sum()), rel=1e-6)
        for north, east, z in points.values():
            assert z * FOOT == pytest.approx(float(worked.height(np.array([[east, north]]) * FOOT)[0]), abs=1e-6)


def test_stake_points_come_back_as_the_same_slab(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = begun(tmp_path, "survey.csv", SURVEY)
    capsys.readouterr()
    assert main(["stake", str(job), "--csv"]) == 0
    rows = capsys.readouterr().out

    assert "northing_ft" in rows.partition("\n")[0] and "1040.000,520.000,99.200,corner P3" in rows
    back = Plan(read_design(begun(tmp_path, "pins.csv", rows))[0])
    assert back.shape.area == pytest.approx(800 * FOOT**2)
    assert back.finish.at((510 * FOOT, 1010 * FOOT)) == pytest.approx(99.80 * FOOT)
