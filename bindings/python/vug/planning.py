# SPDX-License-Identifier: MIT
"""How to hold a part, how to turn it, where to drill."""
from __future__ import annotations

import ctypes
import os
from typing import TYPE_CHECKING, Any, ClassVar, List, Optional, Sequence, Tuple, Type, Union

from . import _raw, flow
from ._arrays import choices, vector
from ._context import Context, Handle, default_context, some
from ._options import takes
from ._raw import lib
from ._records import Fluid, PlanBoreInfo, PlanInfo, PlanOptions, StepInfo
from ._sums import ref
from .mesh import Mesh, Path

if TYPE_CHECKING:
    from .cavity import Cavities

FILL = _raw.CONSTANTS["VUG_PLAN_FILL"]
DRAIN = _raw.CONSTANTS["VUG_PLAN_DRAIN"]
WORDS = 512  # room for a pose or a turn in words


class Plan(Handle):
    """A plan and the alternatives to it, best first; number 0 is the one to take."""

    _type = _raw.vug_plan
    _free = "vug_plan_free"
    part: Optional[str] = None  #: what the part, the paint and the rinsing liquid are called in its words
    paint: Optional[str] = None
    rinse: Optional[str] = None
    _cavities_type: "ClassVar[Type[Cavities]]"  # cavity.py gives it

    @classmethod
    @takes(PlanOptions)
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

    def _about(self) -> str:
        info = self.info()
        return f"of {some(info.steps, 'pose')}, {some(info.bores, 'new hole')}, {1e-3 * info.inject_mm3:.2f} mL"

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
        lent = self._pointer
        pointer = lib.vug_plan_cavities(lent, index)
        if not pointer:
            raise IndexError(f"no alternative {index}")
        return self._cavities_type(pointer, self.context, keeper=lent.owner)

    def letter(self, opening: int, index: int = 0) -> str:
        """What an opening of cavities(index) is called: A, B ... and the new ones after them."""
        text = ctypes.create_string_buffer(WORDS)
        self.context.call(lib.vug_plan_letter, self._pointer, index, opening, text, WORDS)
        return text.value.decode()

    def text(self, index: int = 0, part: Optional[str] = None, paint: Optional[str] = None,
             rinse: Optional[str] = None, width: int = 0) -> str:
        """One alternative in plain words, for the bench, in lines of width characters (0: 98). part, paint and
        rinse: what these are called; None: as they were named to vug.plan()."""
        made = ctypes.c_char_p()
        names = [name.encode() if name is not None else None
                 for name in (part or self.part, paint or self.paint, rinse or self.rinse)]
        lent = self.context._pointer
        self.context.call(lib.vug_plan_text, self._pointer, index, *names, width, ctypes.byref(made))
        try:
            return (made.value or b"").decode()
        finally:
            lib.vug_free(lent, made)

    def __str__(self) -> str:
        """The plan to take, in words."""
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


def liquid(name: str, *, level: int = _raw.CONSTANTS["VUG_TYPICAL"], temperature_c: float = 20.0,
           context: Optional[Context] = None) -> Fluid:
    """A liquid of the bench by its name: "water", "isopropanol", "resin", "craft acrylic", "thinned acrylic",
    "dyed epoxy", "plaster slip"; a name may be written with hyphens. level: vug.LOW, TYPICAL or HIGH of
    its range. flow.fluid_preset_source() tells where its numbers come from."""
    names: List[str] = []
    while (known := flow.fluid_preset_name(len(names))) is not None:
        if known.split() == name.lower().replace("-", " ").split():
            return flow.fluid_preset(len(names), level, temperature_c, context)
        names.append(known)
    raise ValueError(f"there is no liquid {name!r}; there are {', '.join(names)}")


@takes(PlanOptions)
def plan(part: "Union[Path, Mesh]", *, paint: "Union[str, Fluid]" = "thinned acrylic",
         rinse: "Union[str, Fluid]" = "isopropanol", holes: Any = None, roles: Optional[Sequence[int]] = None,
         unit_mm: float = 0.0, context: Optional[Context] = None, **options: Any) -> Plan:
    """How to fill a part: print(vug.plan("part.stl")).

    part: a file, or a mesh. paint and rinse: a liquid's name, see liquid(), or a Fluid. holes: see
    Cavities.find(). unit_mm: see MeshLoadOptions. options: members of PlanOptions. A part whose cavities
    have no opening gets all its holes proposed, to be put into the model.
    """
    mesh = part if isinstance(part, Mesh) else Mesh.load(part, context, unit_mm=unit_mm)
    names = [known if isinstance(known, str) else None for known in (paint, rinse)]
    paint, rinse = [liquid(known, context=context) if isinstance(known, str) else known
                    for known in (paint, rinse)]
    made = mesh.cavities(holes, context).plan(paint, rinse, roles, context, **options)
    made.__dict__.update(part=None if part is mesh else os.path.basename(os.fsdecode(part)),  # type: ignore[arg-type]
                         paint=names[0], rinse=names[1])
    return made


def pose_parse(text: str, context: Optional[Context] = None) -> Tuple[float, float, float]:
    """The pose that words say, as pose_words() and Plan.text() write it: the direction that points up."""
    up = (ctypes.c_double * 3)()
    (context or default_context()).call(lib.vug_pose_parse, text.encode(), up)
    return up[0], up[1], up[2]
