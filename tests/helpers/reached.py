"""What of a package its commands reach, read from its text: calls and references are followed from where they begin.

A function, a class or a constant of a module is reached when code that is reached names it, an annotation included. A
class that is reached brings its own code and its dunder methods; any other method or property of it is reached when an
attribute of its name is asked for in code that is reached, whatever it is asked of. So the check errs towards
*reached*: what it lists, nothing names. The code of a module outside of definitions runs when the module is imported.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

_FUNCTIONS: Final = (ast.FunctionDef, ast.AsyncFunctionDef)
_ASKING_BY_NAME: Final = {"getattr", "hasattr", "attrgetter", "methodcaller"}
_HOME: Final = re.compile(r"(\w+):(\w+)")  # "title_panels:TITLE": a name of a module of a package


def modules_below(root: Path) -> dict[str, str]:
    """The text of every module below a package's folder, by its path from where the package lies."""
    return {path.relative_to(root.parent).as_posix(): path.read_text("utf-8") for path in sorted(root.rglob("*.py"))}


def unreached(texts: Mapping[str, str], starts: Iterable[str]) -> list[str]:
    """The full names of all that is not reached from the names to start from, in the order of the text.

    Raises KeyError when a start does not exist.
    """
    package = Package(texts)
    for start in starts:
        package.reach(package.names[start].name)
    return [name for name in package.names if name not in package.reached]


@dataclass
class Piece:
    """Something with a name, and the code that runs or is read when it is reached."""

    name: str
    module: Module
    nodes: list[ast.AST] = field(default_factory=list)
    methods: list[str] = field(default_factory=list)


class Module:
    """One module: what it imports by which name, what it defines, and the code outside of definitions."""

    def __init__(self, path: str, text: str) -> None:
        parts = path.removesuffix(".py").split("/")
        self.package = ".".join(parts[:-1])
        self.name = self.package if parts[-1] == "__init__" else ".".join(parts)
        self.tree = ast.parse(text)
        self.imports = {name: target for name, target in bound_names(self.tree.body, self).items() if target}
        self.own = Piece(self.name, self)
        self.pieces: dict[str, Piece] = {}
        for statement in _unfolded(self.tree.body):
            self._take(statement)

    def _take(self, statement: ast.AST) -> None:
        names = list(_defined(statement))
        if not names:
            self.own.nodes.append(statement)
        for name in names:
            piece = self._piece(name)
            if isinstance(statement, ast.ClassDef):
                self._take_class(statement, piece)
            else:
                piece.nodes.append(statement)

    def _take_class(self, statement: ast.ClassDef, piece: Piece) -> None:
        piece.nodes += [*statement.decorator_list, *statement.bases, *statement.keywords]
        for member in statement.body:
            if isinstance(member, _FUNCTIONS) and not _is_dunder(member.name):
                method = self._piece(f"{statement.name}.{member.name}")
                method.nodes.append(member)
                piece.methods.append(method.name)
            else:
                piece.nodes.append(member)

    def _piece(self, name: str) -> Piece:
        return self.pieces.setdefault(name, Piece(f"{self.name}.{name}", self))


class Package:
    """All modules, and what is reached of them so far."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self.modules = {module.name: module for module in (Module(*named) for named in texts.items())}
        self.names: dict[str, Piece] = {}
        for module in self.modules.values():
            self.names |= {piece.name: piece for piece in (module.own, *module.pieces.values())}
        self.reached: set[str] = set()
        self._asked: set[str] = set()  # names of attributes
        self._waiting: dict[str, list[str]] = {}  # methods of classes that are reached, until their name is asked for

    def reach(self, name: str) -> None:
        """Reach what has this full name, the packages around it, and all that it reaches in its turn."""
        if name in self.reached:
            return
        self.reached.add(name)
        piece = self.names[name]
        self.reach(piece.module.name)
        if piece is piece.module.own and piece.module.package:
            self.reach(piece.module.package)
        for method in piece.methods:
            self._wait(method)
        for node in piece.nodes:
            _Follower(self, piece.module).visit(node)

    def ask(self, attribute: str) -> None:
        """An attribute of this name is asked for: methods of that name are reached."""
        self._asked.add(attribute)
        for method in self._waiting.pop(attribute, []):
            self.reach(method)

    def _wait(self, method: str) -> None:
        attribute = method.rpartition(".")[2]
        if attribute in self._asked:
            self.reach(method)
        else:
            self._waiting.setdefault(attribute, []).append(method)

    def home(self, name: str) -> str | None:
        """Where something is defined that can be imported by this full name, or None when it is not of the package."""
        if name in self.names:
            return name
        parent, _, last = name.rpartition(".")
        if parent in self.modules and last in self.modules[parent].imports:
            return self.home(self.modules[parent].imports[last])
        return None


class _Follower(ast.NodeVisitor):
    """Reaches all that one piece of code names. A name that is bound in a function is not that of the module."""

    def __init__(self, package: Package, module: Module) -> None:
        self.package = package
        self.module = module
        self.scopes: list[dict[str, str | None]] = []

    def visit_Name(self, node: ast.Name) -> None:
        self._reach(self._target(node))

    def visit_Attribute(self, node: ast.Attribute) -> None:
        target = self._target(node)
        self._reach(target)
        if target is None:
            if isinstance(node.ctx, ast.Load):
                self.package.ask(node.attr)
            self.visit(node.value)

    def visit_Import(self, node: ast.Import | ast.ImportFrom) -> None:
        """An import runs the module; what is taken from it is reached when it is used."""
        whole = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        for target in (*whole, *imported(node, self.module).values()):
            parent = target.rpartition(".")[0]
            self._reach(next((name for name in (target, parent) if name in self.package.modules), None))

    visit_ImportFrom = visit_Import

    def visit_Call(self, node: ast.Call) -> None:
        function = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if function in _ASKING_BY_NAME:
            for argument in node.args:
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                    self.package.ask(argument.value)
        if function == "import_module" and isinstance(node.args[0], ast.JoinedStr):
            self._reach_homes(node.args[0])
        self.generic_visit(node)

    def _reach_homes(self, name: ast.JoinedStr) -> None:
        """Modules of a package, loaded by name: the module has a table of them, each with what is taken from it."""
        package = next(str(part.value) for part in name.values if isinstance(part, ast.Constant))
        for node in ast.walk(self.module.tree):
            home = _HOME.fullmatch(str(node.value)) if isinstance(node, ast.Constant) else None
            self._reach(self.package.home(f"{package}{home[1]}.{home[2]}") if home else None)

    def visit_FunctionDef(self, node: ast.FunctionDef | ast.AsyncFunctionDef) -> None:
        for part in (
            *node.decorator_list,
            *_annotations(node.args),
            *_defaults(node.args),
            *filter(None, [node.returns]),
        ):
            self.visit(part)
        self._within(_parameters(node.args) | bound_names(node.body, self.module), node.body)

    visit_AsyncFunctionDef = visit_FunctionDef

    def visit_Lambda(self, node: ast.Lambda) -> None:
        for part in _defaults(node.args):
            self.visit(part)
        self._within(_parameters(node.args), [node.body])

    def _comprehension(self, node: ast.ListComp | ast.SetComp | ast.DictComp | ast.GeneratorExp) -> None:
        self.visit(node.generators[0].iter)
        targets = [name for part in node.generators for name in ast.walk(part.target)]
        self._within({name.id: None for name in targets if isinstance(name, ast.Name)}, ast.iter_child_nodes(node))

    visit_ListComp = visit_SetComp = visit_DictComp = visit_GeneratorExp = _comprehension

    def _within(self, scope: dict[str, str | None], nodes: Iterable[ast.AST]) -> None:
        self.scopes.append(scope)
        for node in nodes:
            self.visit(node)
        self.scopes.pop()

    def _reach(self, name: str | None) -> None:
        if name is not None:
            self.package.reach(name)

    def _target(self, node: ast.expr) -> str | None:
        """The full name of what a name or an attribute of a module stands for, or None when it is not ours."""
        if isinstance(node, ast.Name):
            for scope in reversed(self.scopes):
                if node.id in scope:
                    return self.package.home(scope[node.id] or "")
            return self.package.home(f"{self.module.name}.{node.id}")
        if isinstance(node, ast.Attribute):
            owner = self._target(node.value)
            return self.package.home(f"{owner}.{node.attr}") if owner in self.package.modules else None
        return None


def bound_names(nodes: Iterable[ast.AST], module: Module) -> dict[str, str | None]:
    """The names that code binds in its own scope: what is imported with its full name, everything else with None."""
    names: dict[str, str | None] = {}
    for node in nodes:
        if isinstance(node, ast.Import | ast.ImportFrom):
            names |= imported(node, module)
        elif isinstance(node, ast.Name):
            names |= {node.id: None} if isinstance(node.ctx, ast.Store) else {}
        elif isinstance(node, (*_FUNCTIONS, ast.ClassDef)):
            names[node.name] = None
        elif not isinstance(node, ast.Lambda):
            own = getattr(node, "name", None)  # of an exception that is caught, or of what a pattern matches
            names |= {own: None} if isinstance(own, str) else {}
            inside: Iterable[ast.AST] = ast.iter_child_nodes(node)
            if isinstance(node, ast.comprehension):
                inside = [node.iter, *node.ifs]
            names |= bound_names(inside, module)
    return names


def imported(node: ast.Import | ast.ImportFrom, module: Module) -> dict[str, str]:
    """What an import binds: the name here, and the full name there."""
    if isinstance(node, ast.Import):
        return {
            alias.asname or alias.name.split(".")[0]: alias.name if alias.asname else alias.name.split(".")[0]
            for alias in node.names
        }
    parts = module.package.split(".")[: len(module.package.split(".")) + 1 - node.level] if node.level else []
    origin = ".".join([*parts, *filter(None, [node.module])])
    return {alias.asname or alias.name: f"{origin}.{alias.name}" for alias in node.names}


def _unfolded(statements: Iterable[ast.stmt]) -> Iterator[ast.AST]:
    """The statements of a module, with those within an ``if`` or a ``try`` one by one."""
    for statement in statements:
        if isinstance(statement, ast.If | ast.Try):
            for child in ast.iter_child_nodes(statement):
                yield from _unfolded([child] if isinstance(child, ast.stmt) else getattr(child, "body", []))
                if isinstance(child, ast.expr):
                    yield child
        else:
            yield statement


def _defined(statement: ast.AST) -> Iterator[str]:
    """The names that a statement of a module defines. Names such as ``__version__`` are for others to read."""
    if isinstance(statement, (*_FUNCTIONS, ast.ClassDef)):
        yield statement.name
    elif isinstance(statement, ast.Assign | ast.AnnAssign):
        for target in statement.targets if isinstance(statement, ast.Assign) else [statement.target]:
            names = (
                node.id for node in ast.walk(target) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
            )
            yield from (name for name in names if not _is_dunder(name))


def _is_dunder(name: str) -> bool:
    return name.startswith("__") and name.endswith("__")


def _all_of(arguments: ast.arguments) -> list[ast.arg]:
    return [
        *arguments.posonlyargs,
        *arguments.args,
        *arguments.kwonlyargs,
        *filter(None, [arguments.vararg, arguments.kwarg]),
    ]


def _parameters(arguments: ast.arguments) -> dict[str, str | None]:
    return {argument.arg: None for argument in _all_of(arguments)}


def _annotations(arguments: ast.arguments) -> list[ast.expr]:
    return [argument.annotation for argument in _all_of(arguments) if argument.annotation is not None]


def _defaults(arguments: ast.arguments) -> list[ast.expr]:
    return [*arguments.defaults, *filter(None, arguments.kw_defaults)]
