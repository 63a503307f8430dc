# SPDX-License-Identifier: MIT
"""Options and results: a C struct with Python's manners."""
from __future__ import annotations

import ctypes
from ctypes import byref, sizeof
from typing import Any, Dict, Iterator, Tuple, Type, TypeVar

from ._arrays import rows
from ._errors import error
from ._library import WHOLE
from ._raw import FUNCTIONS, lib

R = TypeVar("R", bound="Record")
HIDDEN = {"struct_size"}

#: Members that point to a table: its count of rows, and their width.
TABLES = {
    ("vug_fill_options", "rates"): ("rate_count", 2),
    ("vug_plan_options", "view"): ("view_count", 3),
    ("vug_skin_options", "view"): ("view_count", 3),
    ("vug_plan_options", "keep_clear"): ("keep_clear_count", 4),
    ("vug_plan_options", "preferred"): ("preferred_count", 4),
    ("vug_plan_options", "start_air"): ("start_air_count", 3),
    ("vug_plan_options", "triangle_flags"): ("triangle_flag_count", 1),
    ("vug_pose_info", "cover"): ("cover_count", 1),
    ("vug_step_info", "cover"): ("cover_count", 1),
    ("vug_step_info", "vent"): ("vent_count", 1),
    ("vug_step_info", "open"): ("open_count", 1),
    ("vug_step_info", "show"): ("show_count", 1),
    ("vug_step_info", "way"): ("way_count", 3),
    ("vug_step_info", "feed_most_mm3"): ("feed_count", 1),
    ("vug_step_info", "feed"): ("feed_count", 1),
    ("vug_step_info", "feed_mm3"): ("feed_count", 1),
}
_COUNTS = {(struct, count) for (struct, _), (count, _) in TABLES.items()}


class Record:
    """Options start with the library's defaults, results with zeros; members are given by name, and
    read and set as attributes. Points are tuples."""

    _struct: Any = None

    def __init__(self, **members: Any) -> None:
        made = self._struct()
        made.struct_size = sizeof(made)
        name = self._struct.__name__ + "_init"
        if name in FUNCTIONS:  # what goes in has defaults; what comes out starts with zeros
            status = getattr(lib, name)(byref(made), sizeof(made))
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
        struct = cls._struct.__name__
        return tuple(f[0] for f in cls._struct._fields_
                     if f[0] not in HIDDEN and (struct, f[0]) not in _COUNTS)

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
        if isinstance(value, ctypes._Pointer):  # NULL, or set behind our back
            return None
        if isinstance(value, bytes):
            return value.decode(errors="replace")
        return tuple(value) if isinstance(value, ctypes.Array) else value

    def __setattr__(self, name: str, value: Any) -> None:
        if name not in self.names():
            raise AttributeError(f"{type(self).__name__} has no {name}; "
                                 f"it has {', '.join(self.names())}")
        kind: Any = dict(f[:2] for f in self._struct._fields_)[name]
        inside: Any = getattr(kind, "_type_", None)  # of an array, or what a pointer points to
        many = isinstance(kind, type) and issubclass(kind, ctypes.Array)
        if many:
            values = list(value)
            if len(values) != kind._length_:
                raise ValueError(f"{name}: {kind._length_} numbers are needed, not {len(values)}")
            value = kind(*values)
        elif hasattr(kind, "contents") and not issubclass(inside, ctypes.Structure):
            self._set_table(name, kind, value)
            return
        elif hasattr(kind, "contents") and hasattr(value, "_pointer"):
            lent = value._pointer  # an object of the library: kept as long as this points to it
            if not isinstance(lent._as_parameter_, kind):
                raise TypeError(f"{name}: a {inside.__name__} is needed, not a {type(value).__name__}")
            self._kept[name], self._kept["_" + name] = value, lent
            value = lent._as_parameter_
        elif hasattr(kind, "contents"):
            if value is not None and not (isinstance(value, Record)
                                          and value._struct is inside):
                raise TypeError(f"{name}: a record of {inside.__name__} is needed")
            self._kept[name] = value
            value = ctypes.pointer(value._c) if value is not None else None
        elif kind in WHOLE:
            value = WHOLE[kind].fit(value)
        setattr(self._c, name, value)

    def _set_table(self, name: str, kind: Any, value: Any) -> None:
        count_name, width = TABLES[self._struct.__name__, name]
        if value is None:
            self._kept.pop(name, None)
            setattr(self._c, name, None)
            setattr(self._c, count_name, 0)
            return
        pointer, count, stride, keep = rows(value, kind._type_, width)
        if stride != width * sizeof(kind._type_):  # the struct takes rows without gaps
            pointer, count, stride, keep = rows([list(r) for r in value], kind._type_, width)
        self._kept[name] = value
        self._kept["_" + name] = keep
        setattr(self._c, name, pointer)
        setattr(self._c, count_name, count)

    def take_lists(self: R) -> R:
        """Copies the lists of a result, which are its handle's; rows lie one after the other."""
        mine = [(name, count, width) for (struct, name), (count, width) in TABLES.items()
                if struct == self._struct.__name__]
        for name, count, width in mine:
            pointer = getattr(self._c, name)
            self._kept[name] = pointer[:getattr(self._c, count) * width] if pointer else []
            setattr(self._c, name, None)
        for _, count, _ in mine:  # last: two lists may share one
            setattr(self._c, count, 0)
        return self

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
