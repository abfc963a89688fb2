"""Twenty browsers that all start a plan at once, then each ask a question of their own.

python -m tests.benchmarks.many_browsers [--browsers 20] [--within 900]
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from tests.dashboard.weeks import planned
from tests.hard_use.browsers import plan_and_ask


def main() -> None:
    """Let them all click, and say how long the last one waited."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--browsers", type=int, default=20)
    parser.add_argument("--within", type=float, default=900.0)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="pressweek-tests-") as place:
        found = plan_and_ask(planned("midsize", Path(place)), asked.browsers, asked.within)
    print(f"{asked.browsers} browsers watched {len(found.plan_folders)} plan in the making; {found.answered} questions")
    print(f"were answered in {found.seconds:.0f} s, at most {found.most_at_once} tried at once")


if __name__ == "__main__":
    main()
