"""Everything of ReportLab that is relied on, since little of it is documented: the only module that imports it.

Each part is named with what it is for, then in ``MEMBERS`` what of it is read, set, called or overridden; a test says
by name what an upgrade took away, and that nothing else is reached for.
"""

# ruff: noqa: E402
from __future__ import annotations

import sys
from importlib.util import LazyLoader, find_spec, module_from_spec
from typing import Final


def _import_when_touched(package: str, name: str) -> None:
    """Make a module of a package load itself at the first look at anything in it; a loaded one stays as it is.

    Why: ReportLab imports Pillow's ``Image`` as it loads, for photographs, which no card has; that takes a tenth of a
    cold start. What the standard library has is a loader only, and a recipe that leaves the module out of its package,
    where ``import PIL.Image`` looks for it; no issue is known to us. An import statement that is lazy (PEP 810, Python
    3.15, from memory) must stand where the import does, in ReportLab, or be switched on for a whole process. This goes
    when ReportLab imports Pillow late, or with 3.15 as the oldest Python, by a filter that makes this import lazy.
    """
    whole = f"{package}.{name}"
    spec = None if whole in sys.modules else find_spec(whole)
    if spec is None or spec.loader is None:
        return
    spec.loader = LazyLoader(spec.loader)
    sys.modules[whole] = module = module_from_spec(spec)
    spec.loader.exec_module(module)
    setattr(sys.modules[package], name, module)


_import_when_touched("PIL", "Image")
from reportlab import rl_config
from reportlab.pdfbase import pdfdoc, ttfonts

settings = rl_config  # taken by ReportLab from a settings file or RL_… variables where we do not say
PDFArray = pdfdoc.PDFArray  # of numbers, names and references
PDFDictionary = pdfdoc.PDFDictionary  # of names to any of these
PDFDocument = pdfdoc.PDFDocument  # numbers all objects, and has the catalogue, the tree of pages and the list of fonts
PDFFile = pdfdoc.PDFFile  # the file's first lines, and where in it each object begins
PDFIndirectObject = pdfdoc.PDFIndirectObject  # an object with its number around it
PDFInfo = pdfdoc.PDFInfo  # the name of the library
PDFObject = pdfdoc.PDFObject  # what a document gives a number to
PDFObjectReference = pdfdoc.PDFObjectReference  # to the list of fonts
PDFPage = pdfdoc.PDFPage  # one page, with a reference to the tree of pages
PDFStream = pdfdoc.PDFStream  # a dictionary with content
PDFString = pdfdoc.PDFString  # a text, in the one way or the other that PDF has for texts
TTFont = ttfonts.TTFont  # gives characters their codes in a document, and embeds what is used
TTFontFace = ttfonts.TTFontFace  # a font file, and what is cut out of it

BASIC_FONTS: Final = "BasicFonts"  # the name of a document's list of fonts
MEANINGS: Final = "toUnicodeCMap:"  # and the name of a font: the name of what its codes mean

MEMBERS: Final = (
    # part, what of it is read, set, called with these arguments or overridden, what for
    ("settings", "pdfComments pdfMultiLine", "no remarks beside objects, no dictionaries over many lines"),
    ("PDFArray", "(sequence)", "what stands in it"),
    ("PDFDictionary", "(dict) dict", "what stands in it, by names without their slash"),
    ("PDFDocument", "(compression,invariant,lang)", "fonts compressed, no look at the clock, the text's language"),
    ("PDFDocument", "Reference(obj,name)", "an object is one of the document's from now on"),
    ("PDFDocument", "addPage(page)", "a page into the tree of pages"),
    ("PDFDocument", "Catalog info", "the document's own entries; title, author and so on"),
    ("PDFDocument", "idToObject idToObjectNumberAndVersion numberToId", "objects by name, with their numbers"),
    ("PDFDocument", "objectcounter", "the last number given, raised to reserve some"),
    ("PDFCatalog", "__NoDefault__ Outlines", "which entries are written, to add some; an outline, to take it away"),
    ("PDFFile", "(pdfVersion) add(s) offset format(document)", "what is put at its end, where, and all of it"),
    ("PDFIndirectObject", "(name,content) format(document)", "by the name that the document gave it"),
    ("PDFInfo", "producer", "the name of the library"),
    ("PDFObject", "()", "format(document) is called of whatever a document writes, so ours have it too"),
    ("PDFObjectReference", "(name) name", "the name that the document gave it"),
    ("PDFPage", "() __NoDefault__", "made empty; which entries are written, to add some"),
    ("PDFStream", "(dictionary,content)", "written as it is where the dictionary names a filter"),
    ("PDFStream", "content", "the meanings of codes are replaced, since ReportLab's give one to empty places too"),
    ("PDFTrueTypeFont", "BaseFont Widths", "its name in the meanings of its codes; its widths, written at once"),
    ("PDFString", "(s)", "escaped, or in UTF-16"),
    ("TTFont", "addObjects(doc)", "embeds every subset; ours then puts widths and meanings right"),
    ("TTFont", "encoding _shapable", "for canvases, which are not used"),
    ("TTFont", "fontName face state _asciiReadable", "set by ours, which reads less than __init__ does"),
    ("TTFont", "splitString(text,doc) getSubsetInternalName(subset,doc)", "codes for unusual text, by subset"),
    ("TTFont", "_assignState(doc)", "what a document has set in the font, so that usual characters get fixed places"),
    ("State", "assignments internalName nextCode subsets", "those places, and the font's name in contents"),
    ("TTFontFace", "(filename) extractInfo(charInfo)", "reads the tables, without the long ones, which ours has"),
    ("TTFontFace", "charToGlyph charWidths defaultWidth glyphPos glyphToChar hmetrics", "the long tables, widths too"),
)
