"""The sentences of the notes that come from the bench, by the keys that reckoning uses."""

from __future__ import annotations

from typing import Final

BENCH_NOTES: Final = {
    "end_sticks": "The {yarn} yarn, about {across} mm thick, does not pass a hole of {hole} mm: change yarn or loom.",
    "knot_sticks": "The {yarn} yarn, about {across} mm thick, passes a hole of {hole} mm, but no join in it will.",
    "long_float": "Pattern end {end} floats over {rows} picks: past {sensible} it catches and pulls.",
    "stack_too_high": (
        "{ends} ends stand {stack} mm high in one layer, and the pegs {peg} mm: push them down often, "
        "or the last ones come out longer."
    ),
    "longer_route": "{pegs} makes every end {spare} longer than asked: have {metres} m of yarn more than the sums say.",
    "across_a_room": "A warp across a room is a line to trip over: mark it, stay with it, and take it down.",
    "pull": "The warp pulls with about {newtons} N ({kilograms} kg): tie the loom to what cannot tip.",
    "estimates": "All figures but the counts are estimates.",
}
