"""Rain from a lawn above, or from a roof without a gutter, is led past the slab.

What is compared
    Takes how far the ground beyond each edge rises from the slab and sheds onto it, and compares it with 20 ft; and how
    far up a roof slopes that drips beside the slab, and compares that with 4 ft. Neither counts where a swale, a drain
    or a gravel strip takes the water.
Why it matters
    A slab is laid out for the rain that falls on it. Sixty feet of lawn bring ten times that, with soil in it: mud
    after each storm, ice in winter, and a base that is never dry. The drip of an eave wears a row of pits into the
    paste.
When it does not apply
    No edge has an uphill or an eave.
How to put it right
    Cut a swale or lay a gravel strip or a drain along the upper edge, with its own way out. Hang a gutter.
Where sources differ
    None was found that gives a length. Both are common practice, so they are cautions.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Water from above is led past"
LIMITS = (
    Limit("uphill_at_most", "20 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "300 ft"),
          "ground that sheds its rain onto the slab"),
    Limit("eave_at_most", "4 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "100 ft"),
          "roof that drips onto the slab without a gutter"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each edge with ground or a roof above it."""
    below = [piece for piece in plan.edges.pieces if piece.edge and (piece.edge.uphill or piece.edge.eave)]
    pieces = {piece.place: piece for piece in below}
    if not pieces:
        does_not_apply("no edge has ground or a roof above it that sheds rain onto the slab (edges, uphill and eave)")
    led = [piece for piece in pieces.values() if piece.edge and not piece.edge.swale]
    if not led:
        does_not_apply("what comes down from above is led past the slab (edges, swale)")
    for piece in led:
        at = spot(piece)
        for key, shed, limit, says, ask in (
            ("uphill", piece.edge and piece.edge.uphill, limits.uphill_at_most,
             "the rain of {run} of ground above {edge} runs onto the slab",
             "lead it past the slab in a swale or a drain with its own way out"),
            ("eave", piece.edge and piece.edge.eave, limits.eave_at_most,
             "{run} of roof at {edge} drips onto the slab without a gutter",
             "hang a gutter, or lay a gravel strip or a drain under the eave"),
        ):  # fmt: skip
            if shed:
                told, run = (says, ask), shed
                yield compare(
                    Spot(at.name, plan.place(f"{piece.place.path}.{key}"), at.shape), run, limit,
                    says=lambda: words(told[0], run=run, edge=at.name),
                    decide=lambda: words(f"{told[1]}, and write swale: true at {{edge}}", edge=at.name),
                )  # fmt: skip
