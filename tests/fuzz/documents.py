"""PDFs that a visitor may hand in to be read back: torn, locked, knotted, and with files under hostile names."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Final

import pikepdf

from cardmaker.cli.command_line import run_command_line
from tests.fuzz import hostile, texts

_BOMB: Final = 8 * 1024 * 1024  # a file that grows to this when it is unpacked


@cache
def _cards() -> tuple[bytes, ...]:
    """A few sound cards, made once."""
    with TemporaryDirectory() as folder:
        for name in ("two-rails", "five-posts"):
            run_command_line(["card", name, "--out", folder, "--quiet"])
        return tuple(path.read_bytes() for path in sorted(Path(folder).glob("*.pdf")))


def hostile_pdf(chance: Random) -> bytes:
    """A card whose bytes were changed, or whose attachments were."""
    card = chance.choice(_cards())
    if chance.random() < 0.5:
        return texts.mutated(card, chance, _cards())
    with pikepdf.open(io.BytesIO(card)) as pdf:
        _with_files(pdf, chance)
        torn = io.BytesIO()
        locked = pikepdf.Encryption(owner="a", user=chance.choice(("", "b"))) if chance.random() < 0.1 else False
        pdf.save(torn, encryption=locked, static_id=True)
    return texts.mutated(torn.getvalue(), chance, _cards()) if chance.random() < 0.2 else torn.getvalue()


def _with_files(pdf: pikepdf.Pdf, chance: Random) -> None:
    """One to four files more, under names that lead elsewhere; now and then a tree of names that holds itself."""
    tree = pdf.Root.Names.EmbeddedFiles
    for _ in range(chance.randint(1, 4)):
        name = hostile.name(chance).encode(errors="replace").decode()[:300] + chance.choice(
            (".yaml", ".YAML", "", ".yaml ")
        )
        data = chance.choice((b"", b"title: x\n", b"\x00" * _BOMB, hostile.text(chance).encode(errors="replace")))
        stream = pdf.make_stream(data)
        if chance.random() < 0.2:
            stream.Filter = pikepdf.Name(chance.choice(("/LZWDecode", "/ASCIIHexDecode", "/JBIG2Decode", "/Nothing")))
        what = pikepdf.Dictionary(Type=pikepdf.Name.Filespec, F=name, UF=name, EF=pikepdf.Dictionary(F=stream))
        wrong = chance.choice((pikepdf.Array([1]), pikepdf.Dictionary(), pikepdf.String("x"), pikepdf.Name("/x")))
        tree.Names.append(pikepdf.String(name))
        tree.Names.append(wrong if chance.random() < 0.1 else what)
    if chance.random() < 0.1:
        tree = pdf.make_indirect(tree)
        tree.Kids = pikepdf.Array([tree])
        pdf.Root.Names.EmbeddedFiles = tree
