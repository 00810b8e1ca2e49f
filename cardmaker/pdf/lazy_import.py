"""A library that is loaded when it is touched, not when it is named.

Why: ReportLab names Pillow's ``Image`` as it loads, for photographs, which no card has; loading it takes a tenth of a
cold start. The way is the standard library's own, and whoever touches the module afterwards has all of it.
"""

from __future__ import annotations

import sys
from importlib.util import LazyLoader, find_spec, module_from_spec


def import_when_touched(package: str, name: str) -> None:
    """Make a module of a package load itself at the first look at anything in it; a loaded one stays as it is.

    Good for modules that others take by ``from package import name``: a plain ``import`` looks at once.
    """
    whole = f"{package}.{name}"
    if whole in sys.modules:
        return
    spec = find_spec(whole)
    if spec is None or spec.loader is None:
        return
    spec.loader = LazyLoader(spec.loader)
    sys.modules[whole] = module = module_from_spec(spec)
    spec.loader.exec_module(module)
    setattr(sys.modules[package], name, module)
