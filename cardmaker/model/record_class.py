"""What our records are made by: a frozen dataclass with slots whose class is ready quickly.

Why our own: ``@dataclass(frozen=True, slots=True)`` writes the source of its methods and runs ``exec`` on it for every
class, at every start of the program. In one run that takes some 30 times as long as ``@record``, whose classes share
their methods, and ``typing.NamedTuple`` some 6 times as long (``python -m tests.benchmarks.records``). A cold card
makes about a hundred of these classes, so dataclasses would make it about a third slower, named tuples a twentieth.
CPython knows the cost: its issue gh-109870, one ``exec`` for a class instead of several, done in 3.13, saves only a
part of it (from memory). This module can go when that benchmark finds a standard frozen class with slots and defaults
within twice the time of ``@record`` on the oldest Python that the project supports.

To everybody else records are dataclasses: ``dataclasses.replace`` and ``fields`` take them, and so do type checkers.
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
    """A field that says where a record comes from rather than what it is: it is neither compared nor shown."""
    return _Uncompared(default)


@dataclass_transform(frozen_default=True, field_specifiers=(uncompared,))
def record(plain: type[T]) -> type[T]:
    """The class with a frozen slot for each annotated name; what stands after the ``=`` is its default."""
    names = tuple(plain.__annotations__)
    body = {name: value for name, value in vars(plain).items() if name not in ("__dict__", "__weakref__")}
    stated = {name: body.pop(name) for name in names if name in body}
    compared = tuple([name for name in names if not isinstance(stated.get(name), _Uncompared)])
    cls: Any = type(plain.__name__, (_Record,), body | {"__slots__": names, "__match_args__": names})
    cls._defaults = {name: value.default if isinstance(value, _Uncompared) else value for name, value in stated.items()}
    cls._setters = tuple([vars(cls)[name].__set__ for name in names])
    cls._compared, cls._key = compared, attrgetter(*compared)
    return cls  # type: ignore[no-any-return]


if TYPE_CHECKING:
    from dataclasses import replace as replace
else:

    def replace(old, /, **changes):
        """The record with some fields changed, as :func:`dataclasses.replace` has it, without loading that library."""
        kind = type(old)
        given = {name: getattr(old, name) for name in kind.__match_args__} | changes
        return kind(*given.values()) if len(given) == len(kind.__match_args__) else kind(**given)


class _Fields:
    """The fields as :mod:`dataclasses` describes them, made when somebody asks."""

    def __get__(self, instance: object, kind: type[_Record]) -> Mapping[str, Any]:
        from dataclasses import field, make_dataclass

        described = []
        for name, annotation in kind.__annotations__.items():
            compared = name in kind._compared
            default = {"default": kind._defaults[name]} if name in kind._defaults else {}
            described.append((name, annotation, field(**default, compare=compared, repr=compared)))
        fields: Mapping[str, Any] = vars(make_dataclass(kind.__name__, described))["__dataclass_fields__"]
        return fields


class _Record:
    """The methods that all records share."""

    __slots__ = ()
    __dataclass_fields__: Final = _Fields()
    __match_args__: tuple[str, ...]
    _defaults: Mapping[str, Any]
    _setters: tuple[Any, ...]
    _compared: tuple[str, ...]
    _key: Any  # what is compared: the values of those fields

    def __init__(self, *values: Any, **named: Any) -> None:
        setters = self._setters
        if named or len(values) != len(setters):
            values = _in_order(type(self), values, named)
        for put, value in zip(setters, values):  # noqa: B905 - as many, as was just seen to
            put(self, value)

    def __eq__(self, other: object) -> bool:
        return self._key(self) == self._key(other) if type(other) is type(self) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._key(self))

    def __repr__(self) -> str:
        shown = ", ".join([f"{name}={getattr(self, name)!r}" for name in self._compared])
        return f"{type(self).__qualname__}({shown})"

    def __setattr__(self, name: str, value: object) -> NoReturn:
        _refuse_change(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> NoReturn:
        _refuse_change(f"cannot delete field {name!r}")

    def __reduce__(self) -> tuple[Any, ...]:
        """For copies, and for other processes."""
        return type(self), tuple([getattr(self, name) for name in self.__match_args__])


def _in_order(kind: type[_Record], values: tuple[Any, ...], named: Mapping[str, Any]) -> tuple[Any, ...]:
    """The value of every field: given by place or by name, else its default. Raises TypeError as any call does."""
    names = kind.__match_args__
    rest = names[len(values) :]
    if not named and kind._defaults.keys() >= {*rest} and rest:  # most often the last ones are left out, and no more
        return (*values, *map(kind._defaults.__getitem__, rest))
    placed = dict(zip(names, values, strict=False))
    given = {**kind._defaults, **placed, **named}
    if len(values) > len(names) or not placed.keys().isdisjoint(named) or given.keys() != {*names}:
        got = [*map(repr, values), *(f"{name}={value!r}" for name, value in named.items())]
        raise TypeError(f"{kind.__name__}({', '.join(names)}) was called with ({', '.join(got)})")
    return tuple([given[name] for name in names])


def _refuse_change(message: str) -> NoReturn:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(message)
