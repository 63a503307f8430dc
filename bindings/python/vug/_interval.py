# SPDX-License-Identifier: MIT
"""A sum over ranges of its inputs."""
from __future__ import annotations

import ctypes
from typing import Any, Callable, List, Optional, Sequence, Tuple

from . import _raw
from ._context import Context
from ._errors import VugError
from ._raw import lib
from ._records import Interval
from ._sums import Numbers, alike

ERROR = _raw.CONSTANTS["VUG_ERR_ARGUMENT"]


def interval_of(function: Callable[[List[float]], float], low: Sequence[float],
                typical: Sequence[float], high: Sequence[float],
                context: Optional[Context] = None) -> Tuple[Interval, Any]:
    """Range of function over ranges of its 1 to 12 inputs: at every corner and at the typical
    point; exact when it only rises or only falls with each. function takes a list of inputs and
    returns a number. Also gives the spread that each input makes alone."""
    rows = [Numbers(row) for row in (low, typical, high)]
    count = alike(*rows)
    raised: List[BaseException] = []

    def call(_user: Any, given: Any, answer: Any) -> int:
        try:
            answer[0] = float(function(given[:count]))
            return 0
        except VugError as error:
            raised.append(error)
            return error.status
        except BaseException as error:
            raised.append(error)
            return ERROR

    spread, interval = Numbers.room(count), Interval()
    try:
        (context or Context(threads=1)).call(  # the function itself may use the default one
            lib.vug_interval_of, _raw.vug_sum_fn(call), None, rows[0].pointer, rows[1].pointer,
            rows[2].pointer, count, spread.pointer, interval.pointer)
    except VugError:
        if raised:
            raise raised[0]
        raise
    return interval, spread.array
