"""What a noun is made by: a frozen dataclass that is ready quickly.

Why: ``@dataclass(frozen=True, slots=True)`` writes and compiles seven methods for every class, more than half a
millisecond each, at every start of the program. Nouns share theirs, and a class is ready in a twentieth of that. To
everybody else they are dataclasses: ``dataclasses.replace`` and ``fields`` take them, and so do type checkers.
"""

from __future__ import annotations

from collections.abc import Mapping
from operator import attrgetter
from typing import TYPE_CHECKING, Any, Final, NamedTuple, NoReturn, TypeVar, dataclass_transform

T = TypeVar("T")


class _Uncompared(NamedTuple):
    """The default of a field that is neither compared nor shown."""

    default: Any


def uncompared(*, default: Any) -> Any:
    """A field that says where a noun comes from rather than what it is: it is neither compared nor shown."""
    return _Uncompared(default)


@dataclass_transform(frozen_default=True, field_specifiers=(uncompared,))
def record(plain: type[T]) -> type[T]:
    """The class with a frozen slot for each annotated name; what stands after the ``=`` is its default."""
    names = tuple(plain.__annotations__)
    body = {name: value for name, value in vars(plain).items() if name not in ("__dict__", "__weakref__", *names)}
    stated = {name: vars(plain)[name] for name in names if name in vars(plain)}
    told = [name for name in names if not isinstance(stated.get(name), _Uncompared)]
    made: Any = type(plain.__name__, (_Record,), body | {"__slots__": names, "__match_args__": names})
    made._defaults = {
        name: value.default if isinstance(value, _Uncompared) else value for name, value in stated.items()
    }
    made._setters = tuple([vars(made)[name].__set__ for name in names])
    made._told, made._essence = tuple(told), attrgetter(*told)
    return made  # type: ignore[no-any-return]


if TYPE_CHECKING:
    from dataclasses import replace as replace
else:

    def replace(one, /, **changes):
        """The noun with some fields changed, as :func:`dataclasses.replace` has it, without loading that library."""
        kind = type(one)
        return kind(**{name: getattr(one, name) for name in _names(kind)} | changes)


class _Fields:
    """The fields as :mod:`dataclasses` describes them, made when somebody asks."""

    def __get__(self, one: object, kind: type[_Record]) -> Mapping[str, Any]:
        from dataclasses import field, make_dataclass

        described = []
        for name, annotation in kind.__annotations__.items():
            told = name in kind._told
            default = {"default": kind._defaults[name]} if name in kind._defaults else {}
            described.append((name, annotation, field(**default, compare=told, repr=told)))
        fields: Mapping[str, Any] = vars(make_dataclass(kind.__name__, described))["__dataclass_fields__"]
        return fields


class _Record:
    """The methods that all nouns share."""

    __slots__ = ()
    __dataclass_fields__: Final = _Fields()
    _defaults: Mapping[str, Any]
    _setters: tuple[Any, ...]
    _told: tuple[str, ...]
    _essence: Any

    def __init__(self, *values: Any, **named: Any) -> None:
        if named or len(values) != len(self._setters):
            values = _in_order(type(self), values, named)
        for put, value in zip(self._setters, values, strict=True):
            put(self, value)

    def __eq__(self, other: object) -> bool:
        return self._essence(self) == self._essence(other) if type(other) is type(self) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._essence(self))

    def __repr__(self) -> str:
        told = ", ".join([f"{name}={getattr(self, name)!r}" for name in self._told])
        return f"{type(self).__qualname__}({told})"

    def __setattr__(self, name: str, value: object) -> NoReturn:
        _frozen(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> NoReturn:
        _frozen(f"cannot delete field {name!r}")

    def __reduce__(self) -> tuple[Any, ...]:
        """For copies, and for other processes."""
        return type(self), tuple([getattr(self, name) for name in _names(type(self))])


def _names(kind: type[_Record]) -> tuple[str, ...]:
    names: tuple[str, ...] = vars(kind)["__match_args__"]
    return names


def _in_order(kind: type[_Record], values: tuple[Any, ...], named: Mapping[str, Any]) -> tuple[Any, ...]:
    """The value of every field: given by place or by name, else its default. Raises TypeError as any call does."""
    names = _names(kind)
    placed = dict(zip(names, values, strict=False))
    given = {**kind._defaults, **placed, **named}
    if given.keys() == {*names} and len(values) <= len(names) and placed.keys().isdisjoint(named):
        return tuple([given[name] for name in names])
    told = [f"takes no {name!r} here" for name in named if name not in names or name in placed]
    told += [f"needs {name!r}" for name in names if name not in given]
    raise TypeError(f"{kind.__name__}() {', '.join(told) or f'takes at most {len(names)} values'}")


def _frozen(message: str) -> NoReturn:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(message)
