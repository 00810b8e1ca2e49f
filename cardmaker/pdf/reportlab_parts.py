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

MEMBERS: Final = {
    "settings.pdfComments": "remarks beside objects: none",
    "settings.pdfMultiLine": "dictionaries over many lines: no",
    "PDFArray(sequence)": "what stands in it",
    "PDFDictionary(dict)": "what stands in it, by names without their slash",
    "PDFDictionary.dict": "the list of fonts, by their names in it",
    "PDFDocument(compression, invariant, lang)": "fonts compressed, no look at the clock, the language of the text",
    "PDFDocument.Reference(obj, name)": "an object is one of the document's from now on",
    "PDFDocument.addPage(page)": "a page into the tree of pages",
    "PDFDocument.Catalog": "the document's own entries",
    "PDFDocument.idToObject": "all objects, by their names",
    "PDFDocument.idToObjectNumberAndVersion": "their numbers",
    "PDFDocument.info": "the dictionary of title, author and so on",
    "PDFDocument.numberToId": "their names, by numbers",
    "PDFDocument.objectcounter": "the last number given, raised to reserve some",
    "PDFCatalog.__NoDefault__": "the entries that are written, of a page too; others are added",
    "PDFCatalog.Outlines": "ReportLab's own, which are taken away",
    "PDFFile(pdfVersion)": "1.7",
    "PDFFile.add(s)": "puts more at its end, and tells where that begins",
    "PDFFile.format(document)": "all of it",
    "PDFFile.offset": "how long it is so far",
    "PDFIndirectObject(name, content)": "by the name that the document gave it",
    "PDFIndirectObject.format(document)": "as it stands in the file",
    "PDFInfo.producer": "the name of the library",
    "PDFObjectReference(name)": "by the name that the document gave it",
    "PDFObjectReference.name": "the name that the document gave it",
    "PDFPage()": "made empty",
    "PDFPage.__NoDefault__": "as of the catalogue",
    "PDFStream(dictionary, content)": "written as it is where the dictionary names a filter",
    "PDFStream.content": "what a font's codes mean is replaced, since ReportLab's gives them to empty places too",
    "PDFString(s)": "escaped, or in UTF-16",
    "PDFTrueTypeFont.BaseFont": "the font's name in what its codes mean",
    "PDFTrueTypeFont.Widths": "written at once instead of number by number",
    "TTFont.__init__(name, filename)": "not called: it would read the whole file; all that it sets is set by us",
    "TTFont.addObjects(doc)": "embeds every subset; ours then puts widths and meanings right",
    "TTFont.encoding": "for canvases only",
    "TTFont.face": "ours, read in bulk",
    "TTFont.fontName": "for remarks and errors",
    "TTFont.getSubsetInternalName(subset, doc)": "how contents name the font of a subset",
    "TTFont.splitString(text, doc)": "the codes of a text with unusual characters, subset by subset",
    "TTFont.state": "a State for each document",
    "TTFont._asciiReadable": "ASCII under its own codes: no",
    "TTFont._assignState(doc)": "the State for a document, made where there is none",
    "TTFont._shapable": "ligatures: none",
    "State.assignments": "the place of each character",
    "State.internalName": "how the font is named in the document's list",
    "State.nextCode": "the next free place",
    "State.subsets": "the characters at the places of each subset",
    "TTFontFace(filename)": "the file",
    "TTFontFace.extractInfo(charInfo)": "reads the file's tables; without the long ones, which are filled in by us",
    "TTFontFace.charToGlyph": "a long table, by code point",
    "TTFontFace.charWidths": "a long table, by code point",
    "TTFontFace.defaultWidth": "of a character without a glyph",
    "TTFontFace.getCharWidth(code)": "how wide a character is",
    "TTFontFace.glyphPos": "a long table, by glyph",
    "TTFontFace.glyphToChar": "a long table, for canvases only",
    "TTFontFace.hmetrics": "a long table, by glyph",
}
