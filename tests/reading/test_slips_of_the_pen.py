"""Slips that beginners make in a file, each with all that is said of it: it tells what to type instead.

Every message was read as by a weaver who is no programmer. The file is sound but for the one slip, so what is said is
about nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest
import yaml

from cardmaker.jobs.loading import pattern_with_problems
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading import nodes
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.settings_file import parse_settings

FILE: Final = """\
title: Garden Path
yarns:
  white: {fibre: linen, count: 20/2, colour: "#ffffff"}
  blue: {fibre: linen, count: 20/2, colour: "#1f3a5f"}
warp:
  - 3 blue
  - 9 white
  - 3 blue
length: {finished: 2 yd}
"""

# What the slip is, what stands in the sound file, what is typed instead, and what is said without the name of the file.
SLIPS: Final[tuple[tuple[str, str, str, str], ...]] = (
    ("no dash", "  - 9 white", "  9 white",
     "7:3: this line has no dash. Write '- 9 white'."),
    ("no dash flush", "  - 9 white", "9 white",
     "7:1: this line has no dash. Write '- 9 white', with its dash in column 3."),
    ("no dash deeper", "  - 9 white", "    9 white",
     "7:5: warp: this line has no dash under the dash above, so it is read with the line above. Begin it with a "
     "dash in column 3."),
    ("no dash first", "  - 3 blue\n", "  3 blue\n",
     "6:3: warp: '3 blue - 9 white - 3 blue' is not a list of stripes. Begin every line with a dash and a "
     "space, as in - 3 blue; or write [3 blue, 9 white, 3 blue]."),
    ("dash flush", "  - 9 white", "- 9 white",
     "7:1: this dash does not stand under the dashes that it belongs to. Let it begin in column 3, as line 6 "
     "does."),
    ("dash no space", "  - 9 white", "  -9 white",
     "7:3: there is no space after this dash. Write '- 9 white'."),
    ("all dash no space", "  - 3 blue\n  - 9 white\n  - 3 blue\n", "  -3 blue\n  -9 white\n  -3 blue\n",
     "6:3: warp: '-3 blue -9 white -3 blue' is not a list of stripes. Write a space after every dash, as in - 3 "
     "blue."),
    ("en dash", "  - 9 white", "  – 9 white",
     "7:3: '–' is not the dash of a list. Write '- 9 white', with the plain dash of the keyboard."),
    ("en dash all", "  - 3 blue\n  - 9 white\n  - 3 blue\n", "  – 3 blue\n  – 9 white\n  – 3 blue\n",
     "6:3: warp: '–' is not the dash of a list. Begin every line with the plain dash of the keyboard and a "
     "space, as in - 3 blue."),
    ("bullet", "  - 9 white", "  • 9 white",
     "7:3: '•' is not the dash of a list. Write '- 9 white', with the plain dash of the keyboard."),
    ("star", "  - 9 white", "  * 9 white",
     "7:3: '*' is not the dash of a list. Write '- 9 white', with the plain dash of the keyboard."),
    ("too far", "  - 9 white", "    - 9 white",
     "7:5: warp: this line has no dash under the dash above, so it is read with the line above. Begin it with a "
     "dash in column 3."),
    ("deeper first", "  - 3 blue\n", "    - 3 blue\n",
     "7:3: this dash does not stand under the dashes that it belongs to. Let it begin in column 5, as line 6 "
     "does."),
    ("comma count", "9 white", "9, white",
     "7:5: warp item 2: '9, white' is not a stripe. Write '9 white'."),
    ("x", "9 white", "9 x white",
     "7:5: warp item 2: '9 x white' has words that no stripe needs. Write '9 white'."),
    ("glued", "9 white", "9white",
     "7:5: warp item 2: '9white' is not a stripe. Write '9 white', with a space."),
    ("colon", "9 white", "9: white",
     "7:5: warp item 2: '9: white' is not a stripe. Write '9 white'."),
    ("swapped", "9 white", "white 9",
     "7:5: warp item 2: 'white 9' is the wrong way round. Write '9 white'."),
    ("swapped colon", "9 white", "white: 9",
     "7:5: warp item 2: 'white: 9' is the wrong way round. Write '9 white'."),
    ("word", "9 white", "nine white",
     "7:5: warp item 2: 'nine white' does not begin with a figure. Write '9 white'."),
    ("ends word", "9 white", "9 ends white",
     "7:5: warp item 2: '9 ends white' has words that no stripe needs. Write '9 white'."),
    ("ends of", "9 white", "9 ends of white",
     "7:5: warp item 2: '9 ends of white' has words that no stripe needs. Write '9 white'."),
    ("several on a line", "9 white", "9 white, 3 blue",
     "7:5: warp item 2: '9 white, 3 blue' is more than one stripe. Write each on a line of its own, with a dash."),
    ("on key line", "warp:\n  - 3 blue\n  - 9 white\n  - 3 blue\n", "warp: 3 blue, 9 white, 3 blue\n",
     "5:7: warp: '3 blue, 9 white, 3 blue' is not a list of stripes. Begin every line with a dash and a space, "
     "as in - 3 blue; or write [3 blue, 9 white, 3 blue]."),
    ("flow unclosed", "warp:\n  - 3 blue\n  - 9 white\n  - 3 blue\n", "warp: [3 blue, 9 white, 3 blue\n",
     "5:7: this list is opened with [ and never properly closed. Put a comma between the items and ] at the end."),
    ("minus", "9 white", "-9 white",
     "7:5: warp item 2: '-9 white' is not a stripe. Write '9 white'."),
    ("unknown colour", "9 white", "9 green",
     "7:5: warp item 2: 'green' is not one of the yarns. Write 'white' or 'blue', or describe green under yarns."),
    ("count linen", "count: 20/2", "count: 20/2 linen",
     "3:25: yarns.white.count: Count '20/2 linen' cannot be read. Write 20/2, the figures alone."),
    ("count Ne", "count: 20/2", "count: Ne 20/2",
     "3:25: yarns.white.count: Count 'Ne 20/2' is not a linen count. Write a number, or 20/2, or give "
     "yards_per_pound or metres_per_kg from the label."),
    ("count dash", "count: 20/2", "count: 20-2",
     "3:25: yarns.white.count: Count '20-2' cannot be read. Write 20/2, the figures alone."),
    ("count 2 ply", "count: 20/2", "count: 20/2 ply",
     "3:25: yarns.white.count: Count '20/2 ply' cannot be read. Write 20/2, the figures alone."),
    ("fibre glued", "{fibre: linen, count: 20/2", "{fibre: linen 20/2",
     "3:3: yarns.white: nothing tells how thick this yarn is. Add its count, as in count: 20/2, or "
     "yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch.\n"
     "3:18: yarns.white.fibre: 'linen 20/2' is not one of linen, cotton, cottolin, wool, silk, hemp, other. Did "
     "you mean 'linen'?"),
    ("fibre case", "fibre: linen", "fibre: Linen",
     "3:18: yarns.white.fibre: 'Linen' is not one of linen, cotton, cottolin, wool, silk, hemp, other. Did you "
     "mean 'linen'?"),
    ("fiber", "fibre: linen", "fiber: linen",
     "3:11: yarns.white: 'fiber' is not a key that is known here. Did you mean 'fibre'?"),
    ("color", 'colour: "#1f3a5f"', 'color: "#1f3a5f"',
     "4:37: yarns.blue: 'color' is not a key that is known here. Did you mean 'colour'?"),
    ("colour blue", 'colour: "#1f3a5f"', "colour: blue",
     "4:45: yarns.blue.colour: 'blue' is a word, and a colour is # and six signs. Write \"#2f4a7d\" for such a "
     "colour; the words of the label belong under shade."),
    ("color blue", 'colour: "#1f3a5f"', "color: blue",
     "4:37: yarns.blue: 'color' is not a key that is known here. Write colour: \"#2f4a7d\" for such a colour."),
    ("colour unquoted", 'colour: "#1f3a5f"', "colour: #1f3a5f",
     '4:45: #1f3a5f without quotes is a comment, so nothing is written here. Quote the colour: "#1f3a5f".'),
    ("colour nohash", 'colour: "#1f3a5f"', "colour: 1f3a5f",
     "4:45: yarns.blue.colour: '1f3a5f' has no # before it. Write \"#1f3a5f\", in quotes."),
    ("colour 3", 'colour: "#1f3a5f"', 'colour: "#135"',
     "4:45: yarns.blue.colour: '#135' has three signs, and a colour has six. Write \"#113355\"."),
    ("curly title", "title: Garden Path", "title: “Garden Path”",
     '1:8: title: the curly quotes of “Garden Path” are not read as quotes. Use straight quotes ", or none; to '
     "print the curly ones, put straight ones around the lot."),
    ("comma len", "2 yd", "2,5 m",
     "9:20: length.finished: '2,5 m' has a comma in it. Write 2.5 m, with a point."),
    ("len no unit", "2 yd", "2",
     "9:20: length.finished: '2' has no unit. Write 2 in, 2 yd, 2 cm, 2 mm, 2 m or 2 ft, whichever you mean."),
    ("len typo", "2 yd", "2 yrd",
     "9:20: length.finished: '2 yrd' has no unit that is known here. Did you mean 2 yd?"),
    ("len ft in", "2 yd", "5'6\"",
     "9:20: length.finished: '5'6\"' is told in two units. Write it in one, as in 66 in."),
    ("len about", "2 yd", "about 2 yd",
     "9:20: length.finished: 'about 2 yd' is more than a length. Write 2 yd alone."),
    ("len neg", "2 yd", "-2 yd",
     "9:20: length.finished: '-2 yd' is less than nothing. Write 2 yd."),
    ("len word", "2 yd", "two yards",
     "9:20: length.finished: 'two yards' has no figures. Write 2 yards."),
    ("len thousand", "2 yd", "1,800 mm",
     "9:20: length.finished: '1,800 mm' has a comma in it. Write 1800 mm or 1.800 mm, whichever you mean."),
    ("len direct", "length: {finished: 2 yd}", "length: 2 yd",
     "9:9: length: '2 yd' does not say of what. Write {finished: 2 yd} for the tape, or {warp: 2 yd}."),
    ("len unclosed", "length: {finished: 2 yd}", "length: {finished: 2 yd",
     "9:9: these keys are opened with { and never properly closed. Put a comma between the keys and } at the "
     "end."),
    ("len nospace", "{finished: 2 yd}", "{finished:2 yd}",
     "9:10: length: there is no space after 'finished:'. Write 'finished: 2 yd'."),
    ("take_up bare", "{finished: 2 yd}", "{finished: 2 yd, take_up: 12}",
     "9:35: length.take_up: '12' has no per cent sign. Write 12 %, if that is what you mean."),
    ("take_up percent", "{finished: 2 yd}", "{finished: 2 yd, take_up: 12 percent}",
     "9:35: length.take_up: '12 percent' is not a percentage. Write 12 %, with the sign."),
    ("take_up frac", "{finished: 2 yd}", "{finished: 2 yd, take_up: 0.12}",
     "9:35: length.take_up: '0.12' has no per cent sign. Write 12 %, if that is what you mean."),
    ("take-up", "{finished: 2 yd}", "{finished: 2 yd, take-up: 12 %}",
     "9:26: length: 'take-up' is not a key that is known here. Did you mean 'take_up'?"),
    ("take_up comma", "{finished: 2 yd}", "{finished: 2 yd, take_up: 12,5 %}",
     "9:35: length.take_up: '12,5 %' has a comma in it. Write 12.5 %, with a point."),
    ("take_up en", "{finished: 2 yd}", "{finished: 2 yd, take_up: –12 %}",
     "9:35: length.take_up: '–12 %' is less than nothing. Write 12 %."),
    ("title nospace", "title: Garden Path", "title:Garden Path",
     "1:1: there is no space after 'title:'. Write 'title: Garden Path'."),
    ("title no colon", "title: Garden Path", "title Garden Path",
     "1:1: this line has no ':' and so says nothing. Write a key, a colon, a space and a value, as in title: "
     "Three Paths."),
    ("title =", "title: Garden Path", "title = Garden Path",
     "1:1: '=' is not a colon. Write 'title: Garden Path'."),
    ("title colon", "title: Garden Path", "title: Garden Path: narrow",
     "1:8: there is a ': ' inside this text. Write title: \"Garden Path: narrow\", in quotes."),
    ("title hash", "title: Garden Path", "title: #7",
     '1:8: title: #7 without quotes is a comment, so nothing is written here. Quote it: "#7".'),
    ("title missing", "title: Garden Path\n", "",
     "1:1: 'title' is missing. Write it as in title: Three Paths."),
    ("title empty", "title: Garden Path", "title:",
     "1:1: title: nothing is written here. Write it after the colon, on the same line."),
    ("title quote", "title: Garden Path", 'title: "Garden" Path',
     "1:17: the text goes on after its closing \". Use ' around text that holds \"."),
    ("Title", "title: Garden Path", "Title: Garden Path",
     "1:1: 'Title' is not a key that is known here. Did you mean 'title'?"),
    ("name for title", "title: Garden Path", "name: Garden Path",
     "1:1: 'name' is not a key that is known here. Did you mean 'title'?"),
    ("fullwidth colon", "title: Garden Path", "title： Garden Path",
     "1:1: '：' is not a colon. Write 'title: Garden Path'."),
    ("stripes", "warp:\n", "stripes:\n",
     "5:1: 'stripes' is not a key that is known here. Did you mean 'warp'?"),
    ("ends for warp", "warp:\n", "ends:\n",
     "6:3: ends: this is a list, and ends is a number. Write warp: before the stripes."),
    ("yarns missing",
     "yarns:\n"
     '  white: {fibre: linen, count: 20/2, colour: "#ffffff"}\n'
     '  blue: {fibre: linen, count: 20/2, colour: "#1f3a5f"}\n'
     "",
     "",
     "1:1: 'yarns' is missing. Write it as in yarns: {white: {fibre: linen, count: 20/2}}."),
    ("yarns as list", "  white: {", "  - white: {",
     "3:3: a yarn has no dash before its name. Take the dash out."),
    ("yarn short", '  white: {fibre: linen, count: 20/2, colour: "#ffffff"}', "  white: linen 20/2",
     "3:10: yarns.white: 'linen 20/2' has no keys. Write {fibre: linen, count: 20/2}."),
    ("yarn nospace", '{fibre: linen, count: 20/2, colour: "#ffffff"}', '{fibre:linen, count:20/2, colour:"#ffffff"}',
     "3:11: yarns.white: there is no space after 'fibre:'. Write 'fibre: linen'.\n"
     "3:24: yarns.white: there is no space after 'count:'. Write 'count: 20/2'.\n"
     "3:36: yarns.white: there is no space after 'colour:'. Write 'colour: \"#ffffff\"'."),
    ("yarn no comma", "{fibre: linen, count: 20/2", "{fibre: linen count: 20/2",
     "3:10: these keys are opened with { and never properly closed. Put a comma between the keys and } at the "
     "end."),
    ("yarn equals", "fibre: linen", "fibre=linen",
     "3:11: yarns.white: 'fibre=linen' has = for its colon. Write 'fibre: linen'."),
    ("wool", "fibre: linen", "fibre: wool",
     "3:31: yarns.white.count: a count in wool does not say which count system it is. Add system: cotton, "
     "metric or whichever the label means, or the label's yards_per_pound or metres_per_kg."),
    ("mixed indent", "  blue: {", "   blue: {",
     "4:4: this line does not stand under the lines that it belongs to. Let it begin in column 3, as line 3 "
     "does."),
    ("flush yarn", "  blue: {", "blue: {",
     "4:1: 'blue' stands beside yarns: and not under it. Move this line in by two spaces."),
    ("tab", "  - 9 white", "\t- 9 white",
     "7:1: this line is moved in with a tab. Use spaces, two for each step."),
    ("ends wrong", "length:", "ends: 16\nlength:",
     "9:1: ends: The stripes add up to 15 ends, but `ends` says 16. Write `ends: 15`, or add 1 end to the "
     "stripes."),
    ("ends comma", "length:", "ends: 15,\nlength:",
     "9:7: ends: '15,' is not a plain whole number. Write 15 alone."),
    ("ends with a word", "length:", "ends: 15 ends\nlength:",
     "9:7: ends: '15 ends' is not a plain whole number. Write 15 alone."),
    ("ends float", "length:", "ends: 15.0\nlength:",
     "9:7: ends: '15.0' is not a plain whole number. Write 15."),
    ("mirror yes", "length:", "mirror: yes\nlength:",
     "9:9: mirror: 'yes' is not one of last stripe, whole. Write last stripe when the last stripe is the middle "
     "of the tape, whole when all of the list comes back, or take the line out."),
    ("mirror centre", "length:", "mirror: centre\nlength:",
     "9:9: mirror: 'centre' is not one of last stripe, whole. Write last stripe when the last stripe is the "
     "middle of the tape, whole when all of the list comes back, or take the line out."),
    ("grade own", "length:", "source: {grade: own, what: x}\nlength:",
     "9:17: source.grade: 'own' is not one of A, B, C, D, E, F. Write A for an object in hand, B a photograph "
     "or record, C a description, D a picture, E in the style of, F your own."),
    ("ppi units", "length:", "picks_per_inch: 14 ppi\nlength:",
     "9:17: picks_per_inch: '14 ppi' is not a plain number. Write 14 alone."),
    ("ppi comma", "length:", "picks_per_inch: 14,5\nlength:",
     "9:17: picks_per_inch: '14,5' is not a plain number. Write 14.5, with a point."),
    ("ppi space", "length:", "picks per inch: 14\nlength:",
     "9:1: 'picks per inch' is not a key that is known here. Did you mean 'picks_per_inch'?"),
    ("width no unit", "length:", "width: 15\nlength:",
     "9:8: width: '15' has no unit. Write 15 in, 15 yd, 15 cm, 15 mm, 15 m or 15 ft, whichever you mean."),
    ("for text", "length:", "for: bookmark\nlength:",
     "9:6: for: 'bookmark' is not a list of uses. Write it as [bookmark]."),
    ("weft stripe", "length:", "weft: 1 white\nlength:",
     "9:7: weft: '1 white' is not one of the yarns. Did you mean 'white'?"),
    ("loom in pattern", "length:", "loom: kitchen-box\nlength:",
     "9:1: 'loom' is not a key that is known here. A pattern is for any loom: name it with --loom when you make "
     "the card."),
    ("about colon", "length:", "about: Three colours: red\nlength:",
     "9:8: there is a ': ' inside this text. Write about: \"Three colours: red\", in quotes."),
    ("number sign in text", "length:", "about: Number #7\nlength:",
     '9:15: about: #7 without quotes is a comment, so it is not read. Quote the text: "Number #7"; or put a '
     "space after the #."),
    ("alternate", "  - 9 white", "  - alternate: white, blue\n    ends: 9",
     "7:16: warp item 2.alternate: 'white, blue' is not a list of yarns. Write it as [white, blue]."),
    ("alternate count", "  - 9 white", "  - {alternate: [white, blue], count: 9}",
     "7:5: warp item 2: 'ends' is missing. Write it as in ends: 15.\n"
     "7:32: warp item 2: 'count' is not a key that is known here. Known keys are alternate or ends."),
    ("repeat", "  - 9 white", "  - repeat 3: [1 white, 2 blue]",
     "7:5: warp item 2: a group of keys is not a stripe, an alternation or a repeat. Write 9 white, {alternate: "
     "[white, blue], ends: 15} or {repeat: 9, stripes: [1 white, 1 blue]}."),
    ("repeat x", "  - 9 white", "  - {repeat: 3x, stripes: [1 white, 2 blue]}",
     "7:14: warp item 2.repeat: '3x' is not a plain whole number. Write 3 alone."),
    ("dup", "length:", "title: x\nlength:",
     "9:1: 'title' is written twice, in line 1 and in line 9. Keep one of the two."),
    ("comment //", "length:", "// my notes\nlength:",
     "9:1: '//' begins no remark here. Begin it with #, as in # my notes"),
    ("comment", "9 white", "9 white (mine)",
     "7:5: warp item 2: 'white (mine)' is not one of the yarns. Write 'white' or 'blue', or describe white "
     "(mine) under yarns."),
    ("trailing comma", "  - 9 white", "  - 9 white,",
     "7:5: warp item 2: 'white,' is not one of the yarns. Did you mean 'white'?"),
    ("nbsp indent", "  - 9 white", "\u00a0\u00a0- 9 white",
     "7:1: the space here is one that word processors make, which is not a plain space. Delete the spaces "
     "before the words of this line and type them again."),
    ("pieces", "{finished: 2 yd}", "{pieces: 4 bookmarks}",
     "9:18: length.pieces: '4 bookmarks' is not a list of pieces. Write one piece on each line, as in - {for: "
     "bookmark, length: 9 in, count: 4}."),
    ("spaces", 'colour: "#1f3a5f"', "spaces: slot",
     "4:45: yarns.blue.spaces: 'slot' is not 'slots'. Write slots, or take the line out."),
    ("ypp", "count: 20/2", "yards_per_pound: 3,000",
     "3:42: yarns.white.yards_per_pound: '3,000' has a comma in it. Write 3000, without the comma."),
    ("ypp units", "count: 20/2", "yards_per_pound: 3000 yd/lb",
     "3:42: yarns.white.yards_per_pound: '3000 yd/lb' is not a plain number. Write 3000 alone."),
)  # fmt: skip

LOOM: Final = """\
title: Kitchen box
kind: one heddle
slots: 12
holes: 11
outer: slot
waste: 18 in
"""
SLIPS_OF_LOOMS: Final[tuple[tuple[str, str, str, str], ...]] = (
    ("a loom: slots word", "slots: 12", "slots: 12 slots",
     "3:8: slots: '12 slots' is not a plain whole number. Write 12 alone."),
    ("a loom: slots in words", "slots: 12", "slots: twelve",
     "3:8: slots: 'twelve' is not a plain whole number. Write 12, in figures."),
    ("a loom: kind", "kind: one heddle", "kind: rigid heddle",
     "2:7: kind: 'rigid heddle' is not one of one heddle, two heddles. Did you mean 'one heddle'?"),
    ("a loom: kind in capitals", "kind: one heddle", "kind: One heddle",
     "2:7: kind: 'One heddle' is not one of one heddle, two heddles. Did you mean 'one heddle'?"),
    ("a loom: eyes", "holes: 11", "eyes: 11",
     "4:1: 'eyes' is not a key that is known here. Did you mean 'holes'?"),
    ("a loom: outer slots", "outer: slot", "outer: slots",
     "5:8: outer: 'slots' is not one of slot, hole. Did you mean 'slot'?"),
    ("a loom: waste without a unit", "waste: 18 in", "waste: 18",
     "6:8: waste: '18' has no unit. Write 18 in, 18 yd, 18 cm, 18 mm, 18 m or 18 ft, whichever you mean."),
    ("a loom: waste with a comma", "waste: 18 in", "waste: 45,5 cm",
     "6:8: waste: '45,5 cm' has a comma in it. Write 45.5 cm, with a point."),
    ("a loom: mark", "outer: slot", "mark: one",
     "5:7: mark: 'one' is not one of counted as one, counted as zero. Did you mean 'counted as one'?"),
    ("a loom: name for title", "title: Kitchen box", "name: Kitchen box",
     "1:1: 'name' is not a key that is known here. Did you mean 'title'?"),
    ("a loom: one slot", "slots: 12", "slot: 12",
     "3:1: 'slot' is not a key that is known here. Did you mean 'slots'?"),
    ("a loom: no space", "slots: 12", "slots:12",
     "3:1: there is no space after 'slots:'. Write 'slots: 12'."),
    ("a loom: equals", "slots: 12", "slots = 12",
     "3:1: '=' is not a colon. Write 'slots: 12'."),
    ("a loom: decimal", "slots: 12", "slots: 12.0",
     "3:8: slots: '12.0' is not a plain whole number. Write 12."),
    ("a loom: doubled", "outer: slot", "slots: 12",
     "5:1: 'slots' is written twice, in line 3 and in line 5. Keep one of the two."),
)  # fmt: skip

# All of a settings file, and what is said of it.
SLIPS_OF_SETTINGS: Final[tuple[tuple[str, str], ...]] = (
    ("units: inches",
     "1:8: units: 'inches' is not one of metric, us. Did you mean 'us'?"),
    ("units: US",
     "1:8: units: 'US' is not one of metric, us. Did you mean 'us'?"),
    ("hand: Left",
     "1:7: hand: 'Left' is not one of right, left. Did you mean 'left'?"),
    ("hand: lefthanded",
     "1:7: hand: 'lefthanded' is not one of right, left. Did you mean 'left'?"),
    ("from: back",
     "1:7: from: 'back' is not one of front, behind. Did you mean 'behind'?"),
    ("looms: kitchen-box, small-box",
     "1:8: looms: 'kitchen-box, small-box' is not a list of looms. Write it as [kitchen-box, small-box]."),
    ("Paper: a4",
     "1:1: 'Paper' is not a key that is known here. Did you mean 'paper'?"),
    ("unit: metric",
     "1:1: 'unit' is not a key that is known here. Did you mean 'units'?"),
    ("paper a4\nunits: metric",
     "1:1: this line has no ':' and so says nothing. Write a key, a colon, a space and a value, as in title: "
     "Three Paths."),
)  # fmt: skip

ALL_TOLD: Final = {slip[0]: slip[-1] for slip in (*SLIPS, *SLIPS_OF_LOOMS, *SLIPS_OF_SETTINGS)}
WORDS_OF_PROGRAMMERS: Final = re.compile(
    r"\b(?:YAML|mappings?|scalars?|nodes?|tokens?|pars(?:e|ed|er|ing)|syntax|strings?|integers?|floats?|null|booleans?"
    r"|arrays?|instances?|schemas?|regex|indent\w*|whitespace|unicode|bytes?)\b",
    re.IGNORECASE,
)


def read(text: str, folder: Path) -> tuple[Pattern | None, str]:
    """The pattern, and all that is said of its file, without the file's name."""
    file = folder / "garden-path.yaml"
    file.write_text(text, "utf-8")
    pattern, problems = pattern_with_problems(file)
    return pattern, "\n".join(str(problem).removeprefix(f"{file}:") for problem in problems)


def test_the_file_is_sound_without_a_slip(tmp_path: Path) -> None:
    pattern, told = read(FILE, tmp_path)
    assert told == ""
    assert pattern is not None


@pytest.mark.parametrize(("instead_of", "typed", "told"), [pytest.param(*slip[1:], id=slip[0]) for slip in SLIPS])
def test_a_slip_is_told_with_what_to_type(instead_of: str, typed: str, told: str, tmp_path: Path) -> None:
    assert FILE.count(instead_of) >= 1
    assert read(FILE.replace(instead_of, typed, 1), tmp_path)[1] == told


@pytest.mark.parametrize(
    ("instead_of", "typed", "told"), [pytest.param(*slip[1:], id=slip[0]) for slip in SLIPS_OF_LOOMS]
)
def test_a_slip_of_a_loom_is_told_with_what_to_type(instead_of: str, typed: str, told: str) -> None:
    assert parse_loom(LOOM.encode(), "box.yaml", "box").capacity == 23
    assert LOOM.count(instead_of) == 1
    assert said_of(lambda: parse_loom(LOOM.replace(instead_of, typed).encode(), "box.yaml", "box")) == told


@pytest.mark.parametrize(("typed", "told"), SLIPS_OF_SETTINGS, ids=[slip[0] for slip in SLIPS_OF_SETTINGS])
def test_a_slip_of_the_settings_is_told_with_what_to_type(typed: str, told: str) -> None:
    assert said_of(lambda: parse_settings(f"{typed}\n".encode(), "cardmaker.yaml")) == told


def said_of(parse: Callable[[], object]) -> str:
    with pytest.raises(ProblemsFound) as found:
        parse()
    return "\n".join(str(problem).removeprefix(f"{problem.file}:") for problem in found.value.problems)


@pytest.mark.parametrize(("instead_of", "typed", "told"), [pytest.param(*slip[1:], id=slip[0]) for slip in SLIPS])
def test_the_slower_reader_leads_to_the_same_words(
    instead_of: str, typed: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(nodes, "_LOADER", yaml.SafeLoader)
    assert read(FILE.replace(instead_of, typed, 1), tmp_path)[1] == told


@pytest.mark.parametrize("told", ALL_TOLD.values(), ids=ALL_TOLD.keys())
def test_every_line_has_a_remedy_and_no_word_of_programmers(told: str) -> None:
    for line in told.split("\n"):
        assert re.match(r"[1-9][0-9]*:[1-9][0-9]*: ", line)
        assert len(re.findall(r"[.?](?= |$)", line)) >= 2 or line.endswith("as in # my notes")
        assert not WORDS_OF_PROGRAMMERS.search(line)


def test_no_slip_is_told_twice_over() -> None:
    assert len(ALL_TOLD) == len(SLIPS) + len(SLIPS_OF_LOOMS) + len(SLIPS_OF_SETTINGS) >= 130
    assert len({slip[1:3] for slip in SLIPS}) == len(SLIPS)


@pytest.mark.parametrize(
    ("typed", "inches"),
    [
        ("2yd", 72),
        ("2 yds", 72),
        ("2 Yards", 72),
        ("2 yd.", 72),
        ("2½ yd", 90),
        ("2 1/2 yd", 90),
        ("2-1/2 yd", 90),
        ("2–1/2 yd", 90),
        ("2 1⁄2 yd", 90),
        ("2.5 yd", 90),
        ("72 in.", 72),
        ("72 inches", 72),
        ("72″", 72),
        ("72”", 72),
        ("6 ft", 72),
        ("6ft.", 72),
    ],
)
def test_a_length_that_is_plain_is_simply_read(typed: str, inches: int, tmp_path: Path) -> None:
    pattern, told = read(FILE.replace("2 yd", typed), tmp_path)
    assert told == ""
    assert pattern is not None
    assert pattern.length.finished_mm == Fraction(254, 10) * inches
