# SPDX-License-Identifier: MIT
"""How to hold a part, how to turn it, where to drill."""
from __future__ import annotations

import ctypes
from typing import TYPE_CHECKING, Any, ClassVar, List, Optional, Sequence, Tuple, Type

from . import _raw
from ._arrays import choices, vector
from ._context import Context, Handle, default_context
from ._raw import lib
from ._records import Fluid, PlanBoreInfo, PlanInfo, PlanOptions, StepInfo
from ._sums import ref

if TYPE_CHECKING:
    from .cavity import Cavities

FILL = _raw.CONSTANTS["VUG_PLAN_FILL"]
DRAIN = _raw.CONSTANTS["VUG_PLAN_DRAIN"]
WORDS = 512  # room for a pose or a turn in words


class Plan(Handle):
    """A plan and the alternatives to it, best first; number 0 is the one to take."""

    _type = _raw.vug_plan
    _free = "vug_plan_free"
    _cavities_type: "ClassVar[Type[Cavities]]"  # cavity.py gives it

    @classmethod
    def make(cls, cavities: "Cavities", fluid: Optional[Fluid] = None,
             solvent: Optional[Fluid] = None, roles: Optional[Sequence[int]] = None,
             context: Optional[Context] = None, **options: Any) -> "Plan":
        """Finds the pose to fill a part in, the shortest sequence of turns, and the fewest vents.

        fluid is the paint, solvent the rinsing liquid; None: water. roles: one number for each
        opening; None: all are open. options: members of PlanOptions.
        """
        which, count = choices(roles)
        given = PlanOptions(**options)
        return (context or default_context()).make(
            cls, lib.vug_plan_make, cavities._pointer, ref(fluid), ref(solvent), which, count,
            given.pointer)

    def __len__(self) -> int:
        """The number of alternatives."""
        return int(lib.vug_plan_count(self._pointer))

    def info(self, index: int = 0) -> PlanInfo:
        """One alternative as a whole."""
        info = PlanInfo()
        self.context.check(lib.vug_plan_get(self._pointer, index, info.pointer))
        return info

    def steps(self, index: int = 0, sequence: int = FILL) -> List[StepInfo]:
        """The steps of one alternative, of filling (vug.PLAN_FILL) or draining (PLAN_DRAIN)."""
        self.info(index)
        found: List[StepInfo] = []
        while True:
            step = StepInfo()
            status = lib.vug_plan_step(self._pointer, index, sequence, len(found), step.pointer)
            if status == _raw.CONSTANTS["VUG_ERR_NOT_FOUND"]:
                return found
            self.context.check(status)
            found.append(step.take_lists())

    def bores(self, index: int = 0) -> List[PlanBoreInfo]:
        """The vents to drill for one alternative."""
        found = [PlanBoreInfo() for _ in range(self.info(index).bores)]
        for number, bore in enumerate(found):
            self.context.check(lib.vug_plan_bore(self._pointer, index, number, bore.pointer))
        return found

    def cavities(self, index: int = 0) -> "Cavities":
        """The cavities with the bores of one alternative planned in them, to go on with."""
        pointer = lib.vug_plan_cavities(self._pointer, index)
        if not pointer:
            raise IndexError(f"no alternative {index}")
        return self._cavities_type(pointer, self.context, keeper=self._owner)

    def letter(self, opening: int, index: int = 0) -> str:
        """What an opening of cavities(index) is called: A, B ... and the new ones after them."""
        text = ctypes.create_string_buffer(WORDS)
        self.context.call(lib.vug_plan_letter, self._pointer, index, opening, text, WORDS)
        return text.value.decode()

    def text(self, index: int = 0, part: Optional[str] = None, paint: Optional[str] = None,
             rinse: Optional[str] = None, width: int = 0) -> str:
        """One alternative in plain words, for the bench, in lines of width characters (0: 98)."""
        made = ctypes.c_char_p()
        names = [name.encode() if name is not None else None for name in (part, paint, rinse)]
        self.context.call(lib.vug_plan_text, self._pointer, index, *names, width, ctypes.byref(made))
        try:
            return (made.value or b"").decode()
        finally:
            lib.vug_free(self.context._pointer, made)

    def __str__(self) -> str:
        return self.text()

    def cautions(self, index: int = 0) -> List[str]:
        """What to watch out for in one alternative, in sentences."""
        count = _raw.CONSTANTS["VUG_CAUTION_COUNT"]
        return [caution_text(c) or "" for c in range(count)
                if lib.vug_plan_caution(self._pointer, index, c)]


def caution_text(caution: int) -> Optional[str]:
    """One or two sentences for a caution, or None."""
    text = lib.vug_caution_text(caution)
    return text.decode() if text is not None else None


def pose_words(up: Sequence[float], start: Optional[Sequence[float]] = None,
               context: Optional[Context] = None) -> str:
    """A pose in plain words: which side of the part is up, and how it leans. With start, the pose
    it comes from: the turn in plain words, and how the part stands after it."""
    text = ctypes.create_string_buffer(WORDS)
    before = vector(start) if start is not None else None
    (context or default_context()).call(lib.vug_pose_words, before, vector(up), text, WORDS)
    return text.value.decode()


def pose_parse(text: str, context: Optional[Context] = None) -> Tuple[float, float, float]:
    """The pose that words say, as pose_words() and Plan.text() write it: the direction that points up."""
    up = (ctypes.c_double * 3)()
    (context or default_context()).call(lib.vug_pose_parse, text.encode(), up)
    return up[0], up[1], up[2]
