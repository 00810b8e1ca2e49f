"""What a document says of itself, and the files that it carries.

Document information and embedded files: ISO 32000-1:2008, 14.3.3 and 7.11.4. Metadata: XMP (ISO 16684-1); the mark of
an accessible file: ISO 14289-1, clause 5. Files of YAML: ``application/yaml``, RFC 9512.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from typing import Final

from cardmaker.model.carried_file import MADE_BY, About, Carried
from cardmaker.pdf.document import Document, Raw, add_entries, compact_text, pdf_array, text_string
from cardmaker.pdf.reportlab_parts import PDFDictionary, PDFInfo, PDFString

_CLAIM: Final = "<pdfuaid:part>1</pdfuaid:part>"  # a file without a title may not say so (7.1)
_OWN_NAMES: Final = "urn:cardmaker:card"  # of the facts that no other vocabulary has
_KINDS: Final = {
    "pattern": "the pattern", "yarn": "a yarn", "loom": "the loom", "pegs": "where the warp is wound",
    "card layout": "how the card is cut", "sheet": "how the sheet is cut",
    "class": "the class", "event": "the event", "binder": "the order of the binder",
    "leaf list": "the leaves of the binder, by which a later one tells what has changed",
    "command": "the command that makes this again, and where its files belong",
}  # fmt: skip


def describe(document: Document, about: About) -> None:
    """Title, subject and the rest, for people and for programs: only what is known, and no date."""
    entries = {
        "Title": about.title, "Subject": about.subject, "Keywords": about.keywords, "Author": about.author,
        "Creator": MADE_BY, "Producer": PDFInfo.producer, **about.facts,
    }  # fmt: skip
    document.info = PDFDictionary({key: PDFString(text) for key, text in entries.items() if text})
    metadata = _xmp(document, about).encode("utf-8", "surrogatepass")
    title = " /DisplayDocTitle true" if about.title else ""
    add_entries(
        document.Catalog,
        Metadata=Raw("/Type /Metadata /Subtype /XML", metadata),
        ViewerPreferences=Raw(f"/PrintScaling /None{title}"),
    )


def _xmp(document: Document, about: About) -> str:
    """The same in XMP; texts are escaped, and what XML cannot hold was refused where it was read."""
    language = _escaped(document.language)
    facts = "".join(f"\n   <own:{key}>{_escaped(text)}</own:{key}>" for key, text in about.facts.items() if text)
    creator = f"\n   <dc:creator><rdf:Seq><rdf:li>{_escaped(about.author)}</rdf:li></rdf:Seq></dc:creator>"
    subject = _in_a_language("description", about.subject)
    keywords = f"\n   <pdf:Keywords>{_escaped(about.keywords)}</pdf:Keywords>"
    return f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:own="{_OWN_NAMES}">
   {_CLAIM if about.title else ""}{_in_a_language("title", about.title)}{subject if about.subject else ""}
   <dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>{creator if about.author else ""}
   <xmp:CreatorTool>{MADE_BY}</xmp:CreatorTool>{keywords if about.keywords else ""}{facts}
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"""


def _escaped(text: str) -> str:
    """A text as XML holds it. The library's function of that name loads half of the network's libraries with it."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _in_a_language(name: str, text: str) -> str:
    return f'\n   <dc:{name}><rdf:Alt><rdf:li xml:lang="x-default">{_escaped(text)}</rdf:li></rdf:Alt></dc:{name}>'


def attach(document: Document, carried: Iterable[Carried]) -> None:
    """Every file under its own name. Raises ValueError when two have the same."""
    files: dict[str, Carried] = {}
    for each in carried:
        if each.name in files:
            raise ValueError(f"two carried files are named {each.name}")
        files[each.name] = each
    if not files:
        return
    specifications = {name: _specification(document, files[name]) for name in sorted(files, key=text_string)}
    pairs = (f"{text_string(name)} {reference}" for name, reference in specifications.items())
    names = Raw(f"/EmbeddedFiles << /Names {pdf_array(pairs)} >>")
    add_entries(document.Catalog, Names=names, AF=pdf_array(specifications.values()))


def _specification(document: Document, file: Carried) -> str:
    checksum = hashlib.md5(file.data, usedforsecurity=False).hexdigest()
    parameters = Raw(f"/Size {len(file.data)} /CheckSum <{checksum}>")
    media = "json" if file.kind in ("leaf list", "command") else "yaml"
    entries = {"Type": "/EmbeddedFile", "Subtype": f"/application#2F{media}", "Params": parameters}
    stream = compact_text(file.data, entries)
    name, data = text_string(file.name), document.reference(stream)
    return document.reference(
        Raw(
            f"/Type /Filespec /F {name} /UF {name} /Desc {text_string(_KINDS[file.kind])} "
            f"/AFRelationship /{'Source' if file.kind == 'pattern' else 'Supplement'} /EF << /F {data} /UF {data} >>"
        )
    )
