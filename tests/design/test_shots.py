"""Rod readings reduced to heights: published runs, closings, and every refusal word for word."""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.design.heights import Closing, Heights
from slabwright.design.located import Named
from slabwright.design.model import Design
from slabwright.design.read import read_design
from slabwright.design.shots import read_shots
from slabwright.source.place import Place
from slabwright.source.problem import Problems, UnreadableError
from slabwright.units.quantity import Kind, read
from snippets import asked, refused, saved

FOOT = 0.3048  # m, exact (NIST SP 811)


def design(folder: Path, csv: str, benches: str = "{BM: 100.00}", **changes: str) -> Path:
    (folder / "shots.csv").write_text(csv, encoding="utf-8")
    return saved(folder, heights=f"{{benches: {benches}, base: shots.csv}}", **changes)


def heights(folder: Path, csv: str, benches: str = "{BM: 100.00}", **changes: str) -> Heights:
    found: Design = read_design(design(folder, csv, benches, **changes))[0]
    return found.heights


def closing(folder: Path) -> Closing:
    """How the run that :func:`heights` wrote there came back to its bench at 100 ft."""
    benches, problems = {"BM": read("100 ft", Kind.HEIGHT)}, Problems()
    units = {"plan": "ft", "height": "ft"}
    _, (found,) = read_shots(folder / "a", Named("shots.csv", Place("a")), benches, {}, units, problems, problems)
    return found


def feet(found: Heights) -> dict[str, float]:
    return {spot.at.name: spot.height.si / FOOT for spot in found.base}


def test_a_turning_point(tmp_path: Path) -> None:
    # lv-turning-point (engineering exam study page, read): BM 520.50, BS 4.25, FS 6.80: HI 524.75, TP 517.95 ft.
    # A foresight of 0 on B reads the height of the instrument itself.
    csv = "setup,point,backsight,foresight\n1,BM,4.25,\n1,B,,0\n1,A,,6.80\n"
    assert feet(heights(tmp_path, csv, "{BM: 520.50}")) == pytest.approx({"B": 524.75, "A": 517.95}, abs=0.005)


def test_three_rods(tmp_path: Path) -> None:
    # lv-three-rods (carpenters' mathematics handbook, ch. 6, read): BM 0 with rod 6; rods 5 and 3 are 1 and 3 ft up.
    csv = "point,backsight,foresight\nBM,6,\nA,,5\nB,,3\n"
    assert feet(heights(tmp_path, csv, "{BM: 0}")) == pytest.approx({"A": 1.0, "B": 3.0})


def test_two_rods_in_meters(tmp_path: Path) -> None:
    # lv-army-m (Army EN0593A, read): rods 1.540 and 1.309 m, point 4 is 0.231 m higher.
    csv = "point,backsight (m),foresight (m)\nBM,1.5,\nC,,1.540\nD,,1.309\n"
    found = {spot.at.name: spot.height.si for spot in heights(tmp_path, csv, "{BM: 30 m}").base}
    assert found["D"] - found["C"] == pytest.approx(0.231, abs=0.0005)


@pytest.mark.parametrize("sign", [";", "\t"])
def test_semicolons_and_decimal_commas(sign: str, tmp_path: Path) -> None:
    # lv-army-m again, as a spreadsheet saves it where the comma is the decimal sign; 1,540 is no thousand beside them.
    rows = ("point;backsight (m);foresight (m);x;y;note", "BM;1,5;;;;", "C;;1,540;;;wall", "Z;;1,309;0,5;0.25;")
    csv = "\n".join(rows).replace(";", sign)
    found = {spot.at.name: spot for spot in heights(tmp_path, csv, "{BM: 30 m}").base}
    assert found["Z"].height.si - found["C"].height.si == pytest.approx(0.231, abs=0.0005)
    assert (found["Z"].at.x, found["Z"].at.y) == (0.5 * FOOT, 0.25 * FOOT)  # the plan is in feet


def test_a_cut_at_a_stake(tmp_path: Path) -> None:
    # lv-cut (contractor exam question, derived): BM 106.35, BS 4.65, FS 2.40: HI 111.00, ground 108.60 ft.
    csv = "point,backsight,foresight\nBM,4.65,\nA,,2.40\nB,,0\n"
    assert feet(heights(tmp_path, csv, "{BM: 106.35}")) == pytest.approx({"A": 108.60, "B": 111.00}, abs=0.005)


def test_a_pin_and_the_base_below_it(tmp_path: Path) -> None:
    # lv-pins (arithmetic, derived): BM 100.00, BS 4.25; rod 4.33 on the pin is 99.92, rod 4.66 on the base 4 in lower.
    csv = "point,backsight,foresight\nBM,4.25,\nA,,4.33\nB,,4.66\n"
    found = feet(heights(tmp_path, csv))
    assert found == pytest.approx({"A": 99.92, "B": 99.92 - 4 / 12}, abs=0.005)


BOOK = """\
# level book, 12 April
setup,point,backsight,foresight,x,y,note
1,BM,4.25,,,,top of the sill
1,A,,4.75,,,
1,S1,,4.90,3,2,low spot
1,TP,,5.10,,,nail

2,TP,4.00,,,,
2,C,,4.20,,,
2,BM,,3.15,,,
"""


def test_a_run_over_a_turning_point_closes(tmp_path: Path) -> None:
    found = heights(tmp_path, BOOK)
    # by hand: HI 104.25; A 99.50, S1 99.35, TP 99.15; HI 103.15; C 98.95; back on BM 100.00
    assert feet(found) == pytest.approx({"A": 99.50, "S1": 99.35, "C": 98.95})
    closed = closing(tmp_path)
    assert (closed.bench, closed.setups, closed.error) == ("BM", 2, pytest.approx(0.0, abs=1e-9))


def test_points_that_are_only_in_the_readings_have_their_place(tmp_path: Path) -> None:
    shot = next(spot for spot in heights(tmp_path, BOOK).base if spot.at.name == "S1")
    assert (shot.at.x, shot.at.y) == pytest.approx((3 * FOOT, 2 * FOOT))
    assert shot.place == Place(str(tmp_path / "shots.csv"), 5)


def test_a_level_book_without_a_column_of_setups(tmp_path: Path) -> None:
    # The turning point has both readings on one line, as in a book: first the foresight, then the new backsight.
    csv = "point,BS,FS\nBM,4.25,\nA,,4.75\nTP,4.00,5.10\nC,,4.20\nBM,,3.15\n"
    found = heights(tmp_path, csv)
    assert feet(found) == pytest.approx({"A": 99.50, "C": 98.95})
    closed = closing(tmp_path)
    assert (closed.setups, closed.error) == (2, pytest.approx(0.0, abs=1e-9))


def test_readings_may_carry_their_own_unit(tmp_path: Path) -> None:
    csv = "point,backsight,foresight,x (m),y (m)\nBM,4.25,,,\nS,,4'-9\",1,2\nR,,1.5 m,2,2\n"
    found = {spot.at.name: spot for spot in heights(tmp_path, csv).base}
    assert found["S"].height.si == pytest.approx((104.25 - 4.75) * FOOT)
    assert found["R"].height.si == pytest.approx(104.25 * FOOT - 1.5)
    assert (found["S"].at.x, found["S"].at.y) == (1.0, 2.0)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_mark_do_not_matter(tmp_path: Path, end: str, mark: str) -> None:
    path = design(tmp_path, "")
    (tmp_path / "shots.csv").write_bytes(
        (mark + "point,backsight,foresight\nBM,4.25,\nA,,4.75\n".replace("\n", end)).encode()
    )
    assert feet(read_design(path)[0].heights) == pytest.approx({"A": 99.5})


@given(st.lists(st.tuples(st.integers(0, 1200), st.integers(0, 1200)), min_size=1, max_size=6))
def test_backsights_less_foresights_is_last_less_first(setups: list[tuple[int, int]]) -> None:
    """Closed or not: sum of backsights - sum of foresights = last - first (the loop check, derived)."""
    carried = ["BM", *(f"T{number}" for number in range(1, len(setups))), "LAST"]
    lines = ["setup,point,backsight,foresight,x,y"]
    for number, (back, fore) in enumerate(setups):
        lines += [f"{number},{carried[number]},{back / 100},,,", f"{number},{carried[number + 1]},,{fore / 100},1,1"]
    problems, questions = Problems(), Problems()
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "loop.csv").write_text("\n".join(lines))
        spots, _ = read_shots(
            Path(folder, "pad.slab.yaml"),
            Named("loop.csv", Place("pad.slab.yaml")),
            {"BM": read("100 ft", Kind.HEIGHT)},
            {},
            {"plan": "ft", "height": "ft"},
            problems,
            questions,
        )
    assert (len(problems), len(questions)) == (0, 0)
    last = next(spot.height.si for spot in spots if spot.at.name == "LAST")
    assert (last / FOOT - 100) * 100 == pytest.approx(sum(back - fore for back, fore in setups), abs=1e-6)


HEAD = "setup,point,backsight,foresight\n"
COLUMNS = "the first line names the columns: setup, point, backsight, foresight, and x, y where points are only here"

TABLE: list[tuple[str, list[tuple[int, int, str, str]]]] = [
    ("# nothing\n\n", [(1, 1, "this file holds no readings", COLUMNS)]),
    (
        "point;backsight;foresight\nBM;4,25,1;\nA;;4:75\n",
        [(2, 4, '"4,25,1" has commas in the number', "4251"),
         (3, 4, '"4:75" cannot be read as a height', "a height such as 99.90 ft or 30.450 m")],
    ),
    ("BM,4.25,\nA,,4.75\n", [(1, 1, '"BM" is not a column known here', COLUMNS),
                             (1, 4, '"4.25" is not a column known here', COLUMNS),
                             (1, 9, '"" is not a column known here', COLUMNS)]),
    ("point,backsight\n", [(1, 1, 'there is no column "foresight"', COLUMNS)]),
    ("point,backsight,foresight,x\n", [(1, 1, 'there is no column "y"', COLUMNS)]),
    ("point,point,backsight,foresight\n", [(1, 7, '"point" is named twice', COLUMNS)]),
    ("point,backsight (yd),foresight\n", [(1, 7, '"backsight (yd)" is not a column known here', COLUMNS)]),
    (
        "point,backsight,foresight\nBM,4,25,\n",
        [(2, 1, "this line has 4 columns and the first line has 3",
          "4.25, with a point, where a decimal comma split a number in two")],
    ),
    (
        'point,backsight,foresight\nBM,"4,250",\n',
        [(2, 1, '"4,250" has a comma in the number', "4250, or 4.250 if the comma is a decimal point")],
    ),
    (HEAD + "1,BM,4.25,\n1,A,,high\n", [
        (3, 6, '"high" cannot be read as a height', "a height such as 99.90 ft or 30.450 m")]),
    (
        HEAD + "1,BM,4.25,\n1,A,,99.5\n1,B,,-1\n",
        [
            (3, 6, "foresight 99.5 cannot be read on a rod: 0 to 25 ft (7.6 m) can be",
             "what the rod shows; heights go into the design itself"),
            (4, 6, "foresight -1 cannot be read on a rod: 0 to 25 ft (7.6 m) can be",
             "what the rod shows; heights go into the design itself"),
        ],
    ),
    (HEAD + "1,BM,4.25,\n1,,,4.1\n1,A,,\n", [
        (3, 1, "this line names no point", "the name of the point or bench that was read"),
        (4, 1, '"A" has no reading', "the backsight or the foresight"),
    ]),
    (HEAD + "1,BM2,4.25,\n1,A,,4.1\n", [(2, 1, 'the height of "BM2" is not known yet', "BM")]),
    (HEAD + "1,NAIL,4.25,\n1,A,,4.1\n", [
        (2, 1, 'the height of "NAIL" is not known yet', "give its height under heights: benches")]),
    (HEAD + "1,BM,4.25,\n2,A,,4.1\n2,B,,4.2\n", [
        (3, 1, "setup 2 has no backsight before this line", "begin each setup with a backsight on a bench"),
    ]),
    (HEAD + "1,BM,4.25,\n1,TP,,4.1\n2,TP,4.0,3.9\n", [
        (4, 1, '"TP" has a backsight and a foresight on one line, and they belong to two setups',
         "two lines: the foresight in the old setup, the backsight in the new one"),
    ]),
    (HEAD + "1,BM,4.25,\n1,Z,,4.1\n1,a,,4.1\n", [
        (3, 1, 'the plan has no point "Z"', "name it under points, or give its x and y in two columns here"),
        (4, 1, 'the plan has no point "a"', "A"),
    ]),
    ("point,backsight,foresight,x,y\nBM,4.25,,,\nS,,4.1,3,\n", [
        (3, 1, '"S" has x or y, not both', "both, or neither")]),
    ("point,backsight,foresight,x,y\nBM,4.25,,,\nS,,4.1,3,1e9\n", [
        (3, 10, '"1e9" is written with a power of ten', "the number in full, a height such as 99.90 ft or 30.450 m"),
    ]),
    (HEAD + "1,BM,4.25,\n1,A,,4.75\n1,BM,,4.04\n", [
        (4, 1, 'the run comes back to "BM" 0.210 ft (64.0 mm) high',
         "find the misread rod or the moved instrument; 0.02 ft (6 mm) is usual"),
    ]),
    (HEAD + "1,B\x00M,4.25,\n", [(2, 4, "there is an invisible character here (U+0000)", "delete it")]),
]  # fmt: skip


@pytest.mark.parametrize(("csv", "problems"), TABLE)
def test_each_refusal_names_place_trouble_and_remedy(
    tmp_path: Path, csv: str, problems: list[tuple[int, int, str, str]]
) -> None:
    assert refused(design(tmp_path, csv)) == problems


QUESTIONS: list[tuple[str, list[tuple[int, int, str, str]]]] = [
    (HEAD + "1,BM,4.25,\n1,A,,4.75\n1,BM,,4.27\n", []),  # 0.02 ft low is usual
    (HEAD + "1,BM,4.25,\n1,A,,4.75\n1,BM,,4.28\n", [
        (4, 1, 'the run comes back to "BM" 0.030 ft low', "was a rod misread? 0.02 ft is usual"),
    ]),
    (HEAD + "1,BM,4.25,\n1,A,,4.75\n1,A,,4.78\n", []),
    (HEAD + "1,BM,4.25,\n1,A,,4.75\n1,A,,4.79\n1,A,,4.80\n", [
        (4, 1, '"A" was read before on line 3, 0.040 ft apart; the first is used',
         "was the instrument moved between the two?"),
    ]),
    (HEAD + "1,BM,4.25,\n1,BM,4.30,\n1,A,,4.75\n", [
        (3, 1, "the backsights of setup 1 disagree by 0.050 ft; the first is used",
         "was the instrument moved, or a rod misread?"),
    ]),
    ("point,backsight,foresight,x,y\nBM,4.25,,,\nB,,4.1,11,0\n", [
        (3, 1, '"B" lies elsewhere here than under points; points is used', "which of the two is right?"),
    ]),
]  # fmt: skip


@pytest.mark.parametrize(("csv", "questions"), QUESTIONS)
def test_runs_that_nearly_close_are_asked_about(
    tmp_path: Path, csv: str, questions: list[tuple[int, int, str, str]]
) -> None:
    assert asked(design(tmp_path, csv)) == questions


def test_problems_carry_the_file_they_are_in(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError) as caught:
        read_design(design(tmp_path, "point,backsight\n"))
    assert [problem.place.file for problem in caught.value.problems] == [str(tmp_path / "shots.csv")]


@pytest.mark.parametrize("name", ["/etc/shots.csv", "C:shots.csv", "~/shots.csv", "a\\b.csv"])
def test_absolute_names_are_refused(tmp_path: Path, name: str) -> None:
    wrong = f'"{name}" is not a file in the folder of this design'
    write = "its name alone, with the file beside the design"
    assert refused(saved(tmp_path, heights=f"{{base: '{name}'}}")) == [(8, 17, wrong, write)]


def test_names_that_lead_out_of_the_folder_are_refused(tmp_path: Path) -> None:
    inside = tmp_path / "job"
    inside.mkdir()
    (tmp_path / "out.csv").write_text("point,backsight,foresight\nBM,4.25,\nA,,4.75\n")
    (inside / "link.csv").symlink_to(tmp_path / "out.csv")
    (inside / "loop.csv").symlink_to(inside / "loop.csv")
    (inside / "deep").symlink_to(tmp_path)
    for name in ("../out.csv", "link.csv", "deep/out.csv", "a/../../out.csv", "loop.csv"):
        (told,) = refused(saved(inside, heights=f"{{benches: {{BM: 100}}, base: {name}}}"))
        assert told[2:] == (
            f'"{name}" leads out of the folder of this design',
            "its name alone, with the file beside the design",
        ), name


def test_a_file_in_a_folder_below_is_read(tmp_path: Path) -> None:
    (tmp_path / "levels").mkdir()
    (tmp_path / "levels" / "base.csv").write_text("point,backsight,foresight\nBM,4.25,\nA,,4.75\n")
    found = read_design(saved(tmp_path, heights="{benches: {BM: 100}, base: levels/base.csv}"))[0]
    assert feet(found.heights) == pytest.approx({"A": 99.5})


def test_a_missing_file_is_told_where_it_is_named(tmp_path: Path) -> None:
    assert refused(saved(tmp_path, heights="{base: shots.csv}")) == [
        (8, 17, "shots.csv: there is no such file", "check the name and the folder")
    ]


def test_twenty_thousand_readings_are_read_quickly(tmp_path: Path) -> None:
    rows = "".join(f"S{n},,{4 + n % 100 / 100:.2f},{n % 100},{n // 100}\n" for n in range(20_000))
    path = design(tmp_path, "point,backsight,foresight,x,y\nBM,4.25,,,\n" + rows)
    started = time.process_time()
    found = read_design(path)[0].heights
    assert time.process_time() - started < 3.0  # about 0.3 s on an idle machine
    assert len(found.base) == 20_000
    assert found.base[-1].height.si == pytest.approx((104.25 - 4.99) * FOOT)
