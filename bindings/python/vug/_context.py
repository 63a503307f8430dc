# SPDX-License-Identifier: MIT
"""Contexts, and the handles made in them."""
from __future__ import annotations

import signal
import itertools
import sys
import threading
import warnings
import weakref
from ctypes import POINTER, byref, c_uint32, sizeof
from typing import Any, Callable, List, Optional, Type, TypeVar

from . import _raw
from ._errors import VugWarning, error
from ._library import WHOLE
from ._raw import lib

Progress = Callable[[float, str], Any]
H = TypeVar("H", bound="Handle")


def some(count: int, what: str) -> str:
    """So many of a thing, in words."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


class Owner:
    """Keeps an object of the library until nothing uses it any more: neither its handle nor an
    array that looks into its memory."""

    def __init__(self, pointer: Any, free: Any) -> None:
        self.pointer = pointer
        self._finalizer = weakref.finalize(self, free, pointer)


class Borrowed:
    """An object that another one owns: keeps that other one."""

    def __init__(self, pointer: Any, keeper: Any) -> None:
        self.pointer = pointer
        self.keeper = keeper


class Lent:
    """A pointer for a call. While the call has it, what it points to is not freed, even if close() is
    called meanwhile, in a callback or in another thread."""

    __slots__ = ("owner", "_as_parameter_")

    def __init__(self, owner: Any) -> None:
        self.owner = owner
        self._as_parameter_ = owner.pointer


class Handle:
    """An object of the library. Frees itself; close() or a with statement does so early. Arrays
    that were got from it stay valid, and calls that run with it end as they would have."""

    _type: Any = None
    _free: str = ""

    def __init__(self, pointer: Any, context: "Context", keeper: Any = None) -> None:
        self._owner: Any = Borrowed(pointer, keeper) if keeper is not None \
            else Owner(pointer, getattr(lib, self._free))
        self.context = context

    @property
    def _pointer(self) -> Lent:
        owner = self._owner
        if owner is None:
            raise ValueError(f"this {type(self).__name__} is closed")
        return Lent(owner)

    def _about(self) -> str:
        """What repr() tells of it."""
        return ""

    def __repr__(self) -> str:
        about = "closed" if self._owner is None else self._about()
        return f"<vug.{type(self).__name__}{about and ' '}{about}>"

    def __setattr__(self, name: str, value: Any) -> None:
        if name not in ("_owner", "context"):
            raise AttributeError(f"{type(self).__name__} has no {name} that can be set")
        super().__setattr__(name, value)

    @property
    def closed_handle(self) -> bool:
        """Has close() been called?"""
        return self._owner is None

    def close(self) -> None:
        """Lets go of the object; a second time is harmless."""
        self._owner = None

    def __enter__(self: H) -> H:
        self._pointer
        return self

    def __exit__(self, *exception: Any) -> None:
        self.close()


def _caller() -> int:
    """The stacklevel, for who calls this, of the first frame outside of this package."""
    level, frame = 1, sys._getframe(1)
    while frame.f_back is not None and frame.f_globals.get("__package__") == __package__:
        level, frame = level + 1, frame.f_back
    return level


class _Interrupt:
    """While a call runs in the main thread, Ctrl-C asks it to stop instead of raising in the
    middle of a callback, and raises KeyboardInterrupt when it has stopped."""

    def __init__(self, cancel: Callable[[], None]) -> None:
        self._cancel = cancel
        self._mine = False
        self.came = False

    def _handle(self, number: int, frame: Any) -> None:
        self.came = True
        self._cancel()

    def __enter__(self) -> "_Interrupt":
        if threading.current_thread() is threading.main_thread() and \
                signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            signal.signal(signal.SIGINT, self._handle)
            self._mine = True
        return self

    def __exit__(self, *exception: Any) -> None:
        if self._mine:
            signal.signal(signal.SIGINT, signal.default_int_handler)


class Context:
    """What calls need besides their arguments: threads, progress, cancel, warnings.

    threads: 0 for as many as there are processors. Results do not depend on it.
    progress: called with the fraction done (0 to 1) and a word for the stage; a true result,
    or an exception, stops the call.

    A context serves one call at a time; a second thread waits. Use one for each thread.
    """

    progress: Optional[Progress]
    warnings: List[str]

    def __init__(self, threads: int = 0, progress: Optional[Progress] = None) -> None:
        self.progress = progress
        self.warnings = []
        self._lock = threading.Lock()
        self._runs_in: Optional[int] = None
        self._raised: Optional[BaseException] = None
        itself = weakref.ref(self)

        def step(_user: Any, fraction: float, stage: bytes) -> int:
            context = itself()
            return context._step(fraction, stage) if context else 0

        self._callback = _raw.vug_progress_fn(step)
        options = _raw.vug_context_options()
        self.check(lib.vug_context_options_init(byref(options), sizeof(options)))
        options.threads = WHOLE[c_uint32].fit(threads)
        pointer = POINTER(_raw.vug_context)()
        self.check(lib.vug_context_create(byref(options), byref(pointer)))
        self._owner: Optional[Owner] = Owner(pointer, lib.vug_context_free)
        self.check(lib.vug_context_set_progress(pointer, self._callback, None))

    @staticmethod
    def check(status: int) -> None:
        """Raises if a call that took no context failed."""
        if status:
            raise error(status)

    @property
    def _pointer(self) -> Lent:
        owner = self._owner
        if owner is None:
            raise ValueError("this Context is closed")
        return Lent(owner)

    def __repr__(self) -> str:
        return "<vug.Context closed>" if self._owner is None else \
            f"<vug.Context of {self.threads} threads>"

    @property
    def threads(self) -> int:
        """How many threads its calls use."""
        return int(lib.vug_context_threads(self._pointer))

    @property
    def fraction(self) -> float:
        """Fraction done of the call that runs, or of the last one. From any thread."""
        return float(lib.vug_context_progress(self._pointer))

    @property
    def message(self) -> str:
        """The message of the last call that failed."""
        return str(lib.vug_context_message(self._pointer).decode(errors="replace"))

    def cancel(self) -> None:
        """Stops the call that runs, or the next one. From any thread."""
        lib.vug_context_cancel(self._pointer)

    def close(self) -> None:
        """Frees the context; objects made in it stay."""
        self._owner = None

    def __enter__(self) -> "Context":
        self._pointer
        return self

    def __exit__(self, *exception: Any) -> None:
        self.close()

    def __setattr__(self, name: str, value: Any) -> None:
        if not name.startswith("_") and name not in ("progress", "warnings"):
            raise AttributeError(f"Context has no {name} that can be set")
        super().__setattr__(name, value)

    def _step(self, fraction: float, stage: bytes) -> int:
        try:
            return 1 if self.progress and self.progress(fraction, stage.decode()) else 0
        except BaseException as raised:
            self._raised = raised
            return 1

    def call(self, function: Any, *arguments: Any) -> None:
        """Calls a function of the library with this context first; raises if it fails."""
        status, message, raised, interrupted = self._run(function, arguments)
        self._settle(status, message, raised, interrupted)

    def make(self, kind: Type[H], function: Any, *arguments: Any, _with: Any = None) -> H:
        """Calls a function whose last argument is the handle it makes. _with: attributes that
        it gets, such as the object it was made from."""
        return self.make_before(kind, function, arguments, (), _with)

    def make_before(self, kind: Type[H], function: Any, before: Any, after: Any,
                    _with: Any = None) -> H:
        """The same where arguments follow the handle."""
        out = POINTER(kind._type)()
        status, message, raised, interrupted = self._run(function, (*before, byref(out), *after))
        made = kind(out, self) if out else None  # freed by itself if the next line raises
        self._settle(status, message, raised, interrupted)
        assert made is not None
        made.__dict__.update(_with or {})
        return made

    def _run(self, function: Any, arguments: Any) -> Any:
        pointer = self._pointer
        if self._runs_in == threading.get_ident():
            raise RuntimeError("a callable may not use the context of the call that it runs in")
        with self._lock:
            self._runs_in = threading.get_ident()
            self._raised = None
            try:
                with _Interrupt(self.cancel) as interrupt:
                    status = function(pointer, *arguments)
                message = lib.vug_context_message(pointer) if status else b""
                texts = (lib.vug_context_warning(pointer, i) for i in itertools.count())
                fresh = [text.decode(errors="replace")
                         for text in itertools.takewhile(lambda text: text is not None, texts)]
                lib.vug_context_clear_warnings(pointer)
            finally:
                self._runs_in = None
            raised, self._raised = self._raised, None
        self.warnings += fresh
        for text in fresh:
            warnings.warn(text, VugWarning, stacklevel=_caller())
        return status, message.decode(errors="replace"), raised, interrupt.came

    @staticmethod
    def _settle(status: int, message: str, raised: Optional[BaseException],
                interrupted: bool) -> None:
        if interrupted:
            raise KeyboardInterrupt
        if raised is not None:
            raise raised
        if status:
            raise error(status, message)


_local = threading.local()


def default_context() -> Context:
    """The context of this thread, used where none is given."""
    if not hasattr(_local, "context"):
        _local.context = Context()
    context: Context = _local.context
    return context


