# SPDX-License-Identifier: MIT
"""Options and results: a C struct with Python's manners."""
from __future__ import annotations

import ctypes
from ctypes import byref, sizeof
from typing import Any, Dict, Iterator, Tuple, Type, TypeVar

from ._errors import error
from ._raw import lib

R = TypeVar("R", bound="Record")
HIDDEN = {"struct_size"}


class Record:
    """Starts with the library's defaults; members are given by name, and read and set as
    attributes. Points are tuples."""

    _struct: Any = None

    def __init__(self, **members: Any) -> None:
        made = self._struct()
        init = getattr(lib, self._struct.__name__ + "_init")
        status = init(byref(made), sizeof(made))
        if status:
            raise error(status)
        object.__setattr__(self, "_c", made)
        object.__setattr__(self, "_kept", {})  # records that members point to
        for name, value in members.items():
            setattr(self, name, value)

    @classmethod
    def of(cls: Type[R], given: Any, members: Dict[str, Any]) -> R:
        """given (a record, a dict or None) with members set over it."""
        if isinstance(given, cls):
            given = given.asdict() if members else given
        if isinstance(given, cls):
            return given
        return cls(**{**(given or {}), **members})

    @classmethod
    def names(cls) -> Tuple[str, ...]:
        """The members' names."""
        return tuple(f[0] for f in cls._struct._fields_ if f[0] not in HIDDEN)

    @property
    def pointer(self) -> Any:
        """The C struct, for a call."""
        return byref(self._c)

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_") or name not in self.names():
            raise AttributeError(f"{type(self).__name__} has no {name}; "
                                 f"it has {', '.join(self.names())}")
        if name in self._kept:
            return self._kept[name]
        value = getattr(self._c, name)
        if hasattr(value, "contents"):
            return None
        if isinstance(value, bytes):
            return value.decode(errors="replace")
        return tuple(value) if isinstance(value, ctypes.Array) else value

    def __setattr__(self, name: str, value: Any) -> None:
        if name not in self.names():
            raise AttributeError(f"{type(self).__name__} has no {name}; "
                                 f"it has {', '.join(self.names())}")
        kind = dict(f[:2] for f in self._struct._fields_)[name]
        if isinstance(kind, type) and issubclass(kind, ctypes.Array):
            values = list(value)
            if len(values) != kind._length_:
                raise ValueError(f"{name}: {kind._length_} numbers are needed, not {len(values)}")
            value = kind(*values)
        elif hasattr(kind, "contents"):
            if value is not None and not (isinstance(value, Record)
                                          and value._struct is kind._type_):
                raise TypeError(f"{name}: a record of {kind._type_.__name__} is needed")
            self._kept[name] = value
            value = ctypes.pointer(value._c) if value is not None else None
        elif isinstance(value, bool):
            value = int(value)
        setattr(self._c, name, value)

    def __iter__(self) -> Iterator[str]:
        return iter(self.names())

    def asdict(self) -> Dict[str, Any]:
        """The members as a dict."""
        return {name: getattr(self, name) for name in self.names()}

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self.asdict() == other.asdict()  # type: ignore

    def __repr__(self) -> str:
        inside = ", ".join(f"{n}={v!r}" for n, v in self.asdict().items())
        return f"{type(self).__name__}({inside})"

    def __reduce__(self) -> Any:
        return _remake, (type(self), self.asdict())


def _remake(kind: Type[R], members: Dict[str, Any]) -> R:
    return kind(**members)
