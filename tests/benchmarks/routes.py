"""How long it takes to choose a route. Run by hand: ``python -m tests.benchmarks.routes``.

Absolute times swing with the machine; the ratios to the smallest board are what to compare.
"""

from __future__ import annotations

from time import perf_counter

from cardmaker.model.peg_plan import Pegs
from cardmaker.reckoning.winding.routes import nearest_routes, round_trip
from tests.helpers.boards import allowed_lengths, strewn, zigzag

RADIUS_MM = 9.75


def seconds(pegs: Pegs) -> float:
    """The quickest of five searches for a length half way up the board's range."""
    routes = allowed_lengths(pegs, RADIUS_MM)
    wanted = routes[len(routes) // 2].length_mm + 1
    times = []
    for _ in range(5):
        start = perf_counter()
        nearest_routes(pegs, wanted, RADIUS_MM)
        times.append(perf_counter() - start)
    return min(times)


def main() -> None:
    first = seconds(zigzag(12))
    for pegs, name in [(zigzag(count), "zigzag") for count in (12, 20, 30, 40)] + [(strewn(40, 0), "strewn")]:
        routes = allowed_lengths(pegs, RADIUS_MM)
        taken = seconds(pegs)
        print(f"{name:7} {len(pegs.pegs):3} pegs {len(routes):6} routes {1000 * taken:7.1f} ms  x {taken / first:6.1f}")
    pegs = zigzag(40)
    start = perf_counter()
    for route in allowed_lengths(pegs, RADIUS_MM)[::50]:
        round_trip(pegs, route.visited, RADIUS_MM)
    each = (perf_counter() - start) * 50
    print(f"measuring every route of 40 pegs anew: x {each / seconds(pegs):.0f} of the search")


if __name__ == "__main__":
    main()
