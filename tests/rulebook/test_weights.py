"""What lets a limit be a hold: a document that can be read, or one of three grounds that need none."""

from __future__ import annotations

from example_reviews import RULES
from slabwright.rulebook.limits import published_sources

GRAVITY, DANGER, ITSELF = "geometry or gravity", "danger to life", "the file against itself"

# Holds on practice or arithmetic, each with its ground.
EXCEPTIONS = {
    ("buried-lines", "clear_at_least"): DANGER,  # a line in the dig
    ("door-step", "sill_above_at_least"): GRAVITY,  # water runs in over a sill that lies under the slab
    ("downspout-lands", "astray_at_most"): GRAVITY,  # the water of a roof runs to a building, or nowhere
    ("fall-from-building", "reaching_share_at_most"): GRAVITY,
    ("fall-from-building", "return_away_at_least"): GRAVITY,
    ("fall-from-building", "court_away_at_least"): GRAVITY,
    ("fixed-heights-agree", "any_at_most"): ITSELF,
    ("fixed-heights-agree", "out_at_least"): GRAVITY,
    ("floor-falls-to-door", "kept_share_at_most"): GRAVITY,
    ("ground-dams-edge", "lip_at_least"): GRAVITY,
    ("leaf-clears-slab", "gap_at_least"): GRAVITY,  # the leaf does not open
    ("lot-setback", "over_at_most"): ITSELF,  # a slab drawn over its own lot line
    ("measured-sides", "difference_at_most"): ITSELF,
    ("ordered-volume", "part_of_net_at_least"): GRAVITY,  # concrete short by volume
    ("outlet-below", "drop_at_least"): GRAVITY,
    ("pours-meet", "without_joint_at_most"): GRAVITY,  # one pour ends where another begins
    ("slab-below-fixed", "flush_sill_at_least"): GRAVITY,
    ("slab-below-fixed", "stated_excess_at_most"): ITSELF,
    ("slab-below-fixed", "stated_room_at_least"): ITSELF,
    ("standing-water", "area_at_most"): GRAVITY,
    ("standing-water", "depth_at_most"): GRAVITY,
    ("standing-water", "depth_by_building_at_most"): GRAVITY,
    ("standing-water", "rim_above_at_most"): GRAVITY,
    ("stated-fall", "difference_at_most"): ITSELF,
    ("stated-fall", "height_difference_at_most"): ITSELF,
    ("street-water-kept-out", "crest_at_least"): GRAVITY,
    ("truck-path", "under_wheels_at_most"): DANGER,  # wheels over a tank
    ("water-ends-where-it-may", "barred_share_at_most"): GRAVITY,
    ("water-ends-where-it-may", "ways_out_at_least"): GRAVITY,
}


def test_every_hold_rests_on_a_document_that_was_read_or_on_a_ground_that_needs_none() -> None:
    sources = published_sources()
    holds = {(rule.name, one.name): sources[one.cite.source].known
             for rule in RULES for one in rule.limits if one.weight == "hold"}  # fmt: skip

    assert "recalled" not in holds.values()
    assert {limit for limit, known in holds.items() if known not in ("read", "quoted")} == set(EXCEPTIONS)
