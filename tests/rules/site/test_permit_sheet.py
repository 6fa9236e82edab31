"""The rule `permit-sheet`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

from comments import only
from design_text import pad, review_by, told_by
from slabs.site import FLAT
from slabwright.text.words import plain

WHOLE = """
site: {lot: {area: 8000 ft2, covered: 1000 ft2, lines: [{kind: side, along: [[20, 0], [20, 30]]}]}}
permit:
  address: 14 Weir Lane
  owner: the owner of lot 7
  parcel: 07-0114
  north: up
  scale: 1:100
  streets: Weir Lane
  easements: none
  flood_plain: no
  septic_and_well: none
  erosion_control: fence
"""


def test_permit_sheet_counts_what_the_counter_would_miss() -> None:
    """The list is what municipal checklists have in common, read."""
    whole = pad(FLAT + WHOLE, outline="[A, B, C, D]")
    one_less = only(review_by("permit-sheet", whole.replace("  north: up\n", "")))
    bare = only(review_by("permit-sheet", pad("permit: {address: 14 Weir Lane}")))

    assert review_by("permit-sheet", whole).met
    assert (one_less.weight, one_less.shown.si) == ("note", 1)
    assert plain(one_less.says, "us") == "permit.north is not on the sheet, and the counter asks for it"
    assert bare.shown.si == 9 + 4
    assert plain(bare.to_pass, "us").endswith("site.lot.lines, site.lot.area, site.lot.covered, heights.finish")


def test_permit_sheet_is_asked_for_in_the_right_of_way() -> None:
    assert review_by("permit-sheet", pad("site: {right_of_way: true}")).not_shown[0].add[0].startswith("permit:")
    assert review_by("permit-sheet", pad("")).does_not_apply


def test_one_thing_that_is_missing_is_named_and_more_are_counted() -> None:
    keys_asked = "address owner parcel north scale streets easements flood_plain septic_and_well erosion_control"
    said = dict.fromkeys(keys_asked.split(), "none")
    lot = "site: {lot: {area: 8000 ft2, covered: 1000 ft2, lines: [{kind: side, along: [[20, 0], [20, 30]]}]}}\n"

    def sheet(*left_out: str) -> str:
        keys = ", ".join(f"{key}: {text}" for key, text in said.items() if key not in left_out)
        return pad(FLAT + lot + f"permit: {{{keys}}}", outline="[A, B, C, D]")

    assert told_by("permit-sheet", sheet("owner")) == (
        "permit.owner is not on the sheet, and the counter asks for it", "add permit.owner"
    )  # fmt: skip
    assert told_by("permit-sheet", sheet("owner", "scale")) == (
        "2 things the counter asks for are not on the sheet", "add permit.owner, permit.scale"
    )  # fmt: skip
    assert review_by("permit-sheet", sheet()).met
