# SPDX-License-Identifier: MIT
"""Shows what **options stands for."""
from __future__ import annotations

import inspect
from typing import Any, Callable, Type, TypeVar

from ._record import Record

F = TypeVar("F", bound=Callable[..., Any])


def takes(kind: Type[Record]) -> Callable[[F], F]:
    """The members of an options record, with the library's defaults, in a function's signature, so that
    help() and editors show them."""
    def show(function: F) -> F:
        signature = inspect.signature(function)
        own = [p for p in signature.parameters.values() if p.kind is not p.VAR_KEYWORD]
        options = [inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=value)
                   for name, value in kind().asdict().items() if name not in signature.parameters]
        function.__signature__ = signature.replace(parameters=own + options)  # type: ignore[attr-defined]
        return function
    return show
