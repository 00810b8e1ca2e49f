"""Looms and patterns that no file here has, written into a folder for a test."""

from __future__ import annotations

import re
from pathlib import Path as File

# Looms and patterns that no file here has: the mark between two spaces, counted as one, heddles that are opposite, a
# single end, three balls, and more colours than anybody carries.
YARNS = {
    "red": "#9C2F2B",
    "white": "#F4F0E4",
    "blue": "#2F4A7D",
    "green": "#6F8B52",
    "black": "#222222",
    "post": "#8C5A2B",
}
OWN_LOOMS = {
    "even-box": "kind: one heddle\nslots: 12\nholes: 12\nouter: slot",
    "one-box": "kind: one heddle\nslots: 14\nholes: 15\nmark: counted as one",
    "one-slot": "kind: one heddle\nslots: 15\nholes: 14\nmark: counted as one",
    "opposite-even": "kind: two heddles\nslots: 16\nholes: 16\nouter: hole\nback_heddle: opposite",
    "same-one": (
        "kind: two heddles\nslots: 15\nholes: 16\nmark: counted as one\nback_heddle: same\n"
        "tie_up: {left_foot: back up, right_foot: front up}"
    ),
}
OWN_PATTERNS = {
    "single": "[1 red]",
    "pair": "[1 red, 1 blue]",
    "own-even": "[3 red, 4 white, 1 blue, 8 white]",
    "own-odd": "[2 red, 5 white, 1 blue, 9 white]",
    "balls": "[2 red, {repeat: 5, stripes: [1 white, 1 blue, 1 red]}, 2 blue]",
    "many": "[{repeat: 3, stripes: [1 white, 2 blue, 1 red, 1 green, 1 black]}]",
    "posts-odd": "[1 post, 3 white, 1 post, 5 white, 1 post, 6 blue]",
    "posts-even": "[4 blue, 1 post, 3 white, 1 post, 3 white, 1 post, 3 white]",
}


def write_bench(folder: File) -> File:
    """The looms and patterns above as files in a folder."""
    for name, lines in OWN_LOOMS.items():
        throws = "{left_foot: right, right_foot: left}" if "two" in lines else "{down: right, up: left}"
        text = f"title: {name}\n{lines}\nwaste: 18 in\nshuttle: {throws}\nshuttle_length: 5 in\nshuttle_holds: 20\n"
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    for name, warp in OWN_PATTERNS.items():
        yarns = "".join(
            f"  {yarn}: {{fibre: linen, count: 20/2, ends_per_inch: 49.3, colour: '{colour}'"
            f"{', spaces: slots' if yarn == 'post' else ''}}}\n"
            for yarn, colour in YARNS.items()
            if re.search(rf"\b{yarn}\b", warp)
        )
        (folder / f"{name}.yaml").write_text(
            f"title: {name}\nyarns:\n{yarns}warp: {warp}\n"
            "length: {finished: 1 m, take_up: 10 %, shrinkage: 4 %}\npicks_per_inch: 15\n",
            encoding="utf-8",
        )
    return folder
