"""How many made-up sites get heights, whether the review passes them, and how long it takes.

Run: ``python tests/benchmarks/propose_heights.py [sites] [first]``.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from propose_sites import SHAPES, site
from slabwright.proposals.heights.job import job_of, left, reviewed
from slabwright.proposals.heights.propose import propose
from slabwright.review import reviewing


def main(count: int = 100, first: int = 0) -> int:
    """Propose heights for each site, judge them again from the text, and print the sums."""
    rules, limits = reviewing.in_force((), None)
    seconds: list[float] = []
    worked: list[float] = []
    solved: Counter[str] = Counter()
    every: Counter[str] = Counter()
    wrong = 0
    for seed in range(first, first + count):
        one = site(seed)
        job = job_of(Path("site.slab.yaml"), one.text, rules, limits)
        start, began = time.perf_counter(), time.process_time()
        done = propose(job)
        seconds.append(time.perf_counter() - start)
        worked.append(time.process_time() - began)
        kind = one.name.split()[0]
        every[kind] += 1
        if done.found:
            solved[kind] += 1
            again = job_of(Path("site.slab.yaml"), done.found[0].text, rules, limits)
            wrong += bool(left(reviewed(again, again.plan)))
        elif "-v" in sys.argv:
            print(f"  not solved: {one.name}, {done.clash.groups if done.clash else 'no clash named'}")
    for shape in SHAPES:
        kind = shape.__name__.removeprefix("_")
        print(f"{kind:10} {solved[kind]:3} of {every[kind]:3}")
    ordered = sorted(seconds)
    print(f"solved {sum(solved.values())} of {count}; proposals that the review does not pass: {wrong}")
    print(f"seconds: median {statistics.median(ordered):.2f}, 95 % {ordered[int(0.95 * (count - 1))]:.2f}, "
          f"most {ordered[-1]:.2f}; over 3 s: {sum(one > 3 for one in ordered)}")  # fmt: skip
    print(f"processor seconds: median {statistics.median(worked):.2f}, most {max(worked):.2f}; "
          f"over 3 s: {sum(one > 3 for one in worked)}")  # fmt: skip
    return wrong


if __name__ == "__main__":
    raise SystemExit(main(*(int(one) for one in sys.argv[1:] if one.isdecimal())))
