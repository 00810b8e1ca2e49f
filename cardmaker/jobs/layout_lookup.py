"""Which card layouts a command asks for: one, several between commas, or all; where it names none, the settings do."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cardmaker.jobs.file_lookup import WrongUsage, at_hand, find, is_path
from cardmaker.jobs.loading import load_layout
from cardmaker.jobs.own_settings import USUAL_LAYOUT, files_of_setting
from cardmaker.jobs.paper_lookup import paper_named
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.settings import Settings

ALL: Final = "all"
_APART: Final = frozenset({"end", "no loom"})  # what a layout needs that is no card of a pattern on a loom


def asked_layouts(asked: str | None, settings: Settings) -> tuple[CardLayout, ...]:
    """The layouts of one call, each once, in the order in which they are named. Raises WrongUsage, ProblemsFound."""
    if asked is not None:
        named = [find("layout", name) if name != ALL else None for name in _names(asked)]
    else:
        names = [name for text in settings.layouts or (USUAL_LAYOUT,) for name in _names(text)]
        named = [_of_settings(name, settings) if name != ALL else None for name in names]
    layouts = [layout for path in named for layout in (_all_layouts() if path is None else [load_layout(path)])]
    return tuple({layout.places.file: layout for layout in layouts}.values())


def only_layout(asked: str | None, settings: Settings) -> Path:
    """The file of the one layout that a binder has: of several that the settings name the first. Raises WrongUsage,
    ProblemsFound."""
    if asked is not None:
        if len(names := _names(asked)) > 1 or names == [ALL]:
            from cardmaker.wording.layout_words import one_layout_of_binder

            raise WrongUsage(one_layout_of_binder(names))
        return find("layout", names[0])
    first = next((name for text in settings.layouts for name in _names(text)), ALL)
    return find("layout", USUAL_LAYOUT) if first == ALL else _of_settings(first, settings)


def _names(asked: str) -> list[str]:
    """Names between commas; a comma in the name of a file that is there parts nothing. Raises WrongUsage."""
    names = [asked] if is_path(asked) and Path(asked).is_file() else [name.strip() for name in asked.split(",")]
    if len(names) == 1 and names[0]:
        return names
    from cardmaker.wording.layout_words import wrong_list_of_layouts

    if wrong := wrong_list_of_layouts(asked, names):
        raise WrongUsage(wrong)
    return names


def _of_settings(name: str, settings: Settings) -> Path:
    (path,) = files_of_setting("layout", [name], settings, ("layout",))
    return path


def _all_layouts() -> list[CardLayout]:
    """Every layout at hand but those about one end, which a command of its own makes, and for no loom.

    Raises ProblemsFound.
    """
    return [layout for layout in map(load_layout, at_hand("layout").values()) if layout.needs not in _APART]


def asked_papers(layouts: Sequence[CardLayout], asked: str | None) -> tuple[str | None, ...]:
    """The paper that is asked for, of each layout: of several only where it has that, else None.

    Raises WrongUsage where none of several has it.
    """
    if asked is None or len(layouts) == 1:
        return (asked,) * len(layouts)
    papers = [paper_named(layout, asked) for layout in layouts]
    if not any(papers):
        from cardmaker.wording.layout_words import no_such_paper

        raise WrongUsage(no_such_paper(asked, [paper.name for layout in layouts for paper in layout.papers]))
    return tuple(None if paper is None else paper.name for paper in papers)
