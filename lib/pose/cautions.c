/* SPDX-License-Identifier: MIT
 * Cautions in plain words. */
#include "vug.h"

#include <stddef.h>

static const char *const cautions[VUG_CAUTION_COUNT] = {
    [VUG_CAUTION_RESIN] =
        "Uncured resin irritates and sensitises skin: wear nitrile gloves and "
        "goggles, and wash the inside until it is no longer tacky. Follow the resin's safety data "
        "sheet.",
    [VUG_CAUTION_SOLVENT] =
        "Rinsing liquid may burn and its vapour is harmful: fresh air, no flame or "
        "spark, a closed container for the used liquid, never down the drain. Follow its safety "
        "data "
        "sheet and local rules.",
    [VUG_CAUTION_UV] = "Cure the inside too, with the lamp shielded from eyes and skin. Follow the "
                       "lamp's and the resin's instructions.",
    [VUG_CAUTION_DUST] =
        "Drill by hand or slowly, only after curing, with eye protection; keep the "
        "dust wet or extracted and do not breathe it.",
    [VUG_CAUTION_GLUE] = "Glue fumes irritate and quick glue bonds skin: fresh air, gloves and "
                         "goggles. Follow the glue's data sheet.",
    [VUG_CAUTION_SEALED] =
        "A cavity sealed brimful can crack or leak when it warms up or freezes: let "
        "what is in it dry first or leave some air, and keep it from heat and frost.",
    [VUG_CAUTION_PRESSURE] =
        "Openings have to be covered while liquid stands above them: press gently, "
        "stop when it resists, and wear goggles; never force the plunger.",
    [VUG_CAUTION_LIMIT] =
        "More air, or bare skin, stays than was asked for: allow more turns or bores, or "
        "live with it.",
    [VUG_CAUTION_HELD] =
        "Bubbles may stick in narrow passages or a stiff liquid: thin it, tap the part, "
        "and wait longer than stated.",
    [VUG_CAUTION_EXCHANGE] =
        "The openings are too narrow, or too much at one height, for air to come in "
        "while liquid runs out: draw the liquid out with a syringe, or shake it out.",
    [VUG_CAUTION_TILT] =
        "The result depends on the angle: hold the part within a few degrees, or lean "
        "it slowly to all sides while waiting.",
    [VUG_CAUTION_THIN] =
        "A bore comes near an edge or a thin wall: start with a thinner drill and back "
        "the wall up.",
    [VUG_CAUTION_SEARCH] =
        "The estimate and the simulation differ: plan again with more columns before "
        "drilling.",
    [VUG_CAUTION_THROAT] =
        "Passages inside are too narrow for bubbles in this liquid: air behind them "
        "stays, unless the liquid pushes it through. Thin it, or fill what lies behind by a bore "
        "of its own.",
    [VUG_CAUTION_BRISK] =
        "Turn the part within a second or two and then wait: turned slowly, bubbles "
        "slide into other places on the way and more air stays.",
    [VUG_CAUTION_CUT_OFF] =
        "In a step some room is left that has an opening but that liquid does not get "
        "to, because air in between bars the way: lean the part there, or inject by that opening "
        "too.",
    [VUG_CAUTION_FULL] =
        "What is inside may come out under the drill, in a jet if the part is warm or was pressed "
        "full: "
        "goggles and gloves, over a tray, the place uppermost. Wipe it before you plug it.",
};

const char *vug_caution_text(int32_t caution)
{
    return caution >= 0 && caution < VUG_CAUTION_COUNT ? cautions[caution] : NULL;
}
