"""Running text and tables over as many pages as they need, for a teacher's sheets and a binder's front."""

from cardmaker.layout.pages.blocks import (
    Block,
    Break,
    Column,
    Gap,
    Heading,
    Item,
    KeepTogether,
    Listing,
    Paragraph,
    Picture,
    Row,
    Table,
)
from cardmaker.layout.pages.leaf import SHEET_SIZES, Leaf
from cardmaker.layout.pages.page_flow import Running, flow, head_height, pages_needed
from cardmaker.layout.pages.tables import TooWide

__all__ = [
    "SHEET_SIZES",
    "Block",
    "Break",
    "Column",
    "Gap",
    "Heading",
    "Item",
    "KeepTogether",
    "Leaf",
    "Listing",
    "Paragraph",
    "Picture",
    "Row",
    "Running",
    "Table",
    "TooWide",
    "flow",
    "head_height",
    "pages_needed",
]
