"""What somebody may keep in the folders of a checkout: patterns, looms, settings, and a file that is broken.

Put them into the folders and the tests must pass: ``python -m tests.helpers.foreign_files FOLDER`` writes them.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

_COTTON: Final = "{fibre: cotton, count: 8/2}"
_PATTERNS: Final = {
    "a": f"title: A\nyarns: {{a: {_COTTON}}}\nwarp: [1 a]\n",  # one end
    "one-colour": f"title: One Colour\nyarns: {{white: {_COTTON}}}\nwarp: [21 white]\n",
    "wide": f"title: Wide\nyarns: {{red: {_COTTON}, blue: {_COTTON}}}\nwarp: [60 red, 99 blue, 60 red]\n",
    "Three Paths": f"title: Three Paths\nyarns: {{blue: {_COTTON}}}\nwarp: [12 blue]\n",  # as one that ships
    "it's so": f'title: "It\'s so"\nyarns: {{blue: {_COTTON}}}\nwarp: [7 blue]\n',
    "ähnlich-wie-früher": f"title: Ähnlich wie früher\nyarns: {{rot: {_COTTON}}}\nwarp: [9 rot]\n",
    "2026-11-20": f"title: 2026-11-20\nyarns: {{blue: {_COTTON}}}\nwarp: [11 blue]\n",
    "no": f"title: no\nyarns: {{y: {_COTTON}}}\nwarp: [5 y]\nfor: [garter]\n",
    "same-code": f"title: Same Code\ncode: T1\nyarns: {{blue: {_COTTON}}}\nwarp: [13 blue]\n",
    "silk": "title: Silk\nyarns: {s: {fibre: silk, ends_per_inch: 90}}\nwarp: [45 s]\n",
    "posts": f"title: Posts\nyarns: {{w: {_COTTON}, p: {_COTTON}}}\nwarp: [5 w, 1 p, 3 w, 1 p, 5 w]\n",
    "long": f"title: Long\nyarns: {{blue: {_COTTON}}}\nwarp: [15 blue]\nlength: {{finished: 3 m, take_up: 9 %}}\n",
}
_LOOM: Final = "title: {title}\nkind: one heddle\nslots: {slots}\nholes: {holes}\nmark: counted as zero\nwaste: 20 in\n"
_LOOMS: Final = {
    "kitchen-box": _LOOM.format(title="Kitchen box", slots=22, holes=21),
    "little-board": _LOOM.format(title="Little board", slots=6, holes=5),
    "A great loom": _LOOM.format(title="A great loom", slots=300, holes=299),
}
_BROKEN: Final = "title: [Broken\n  yarns: - {\n"

FOREIGN_FILES: Final = {
    **{f"patterns/{stem}.yaml": text for stem, text in _PATTERNS.items()},
    **{f"layouts/looms/{stem}.yaml": text for stem, text in _LOOMS.items()},
    "patterns/broken.yaml": _BROKEN,
    "layouts/looms/broken.yaml": _BROKEN,
    "layouts/cards/broken.yaml": _BROKEN,
    "layouts/pegs/broken.yaml": _BROKEN,
    "cardmaker.yaml": "loom: kitchen-box\nunits: us\npaper: a4\nhand: left\nfrom: behind\nlayout: visitor\n",
}


def write_foreign_files(folder: Path) -> None:
    """Writes them where they would lie in a checkout."""
    for name, text in FOREIGN_FILES.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    write_foreign_files(Path(sys.argv[1]))
