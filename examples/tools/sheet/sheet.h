/* SPDX-License-Identifier: MIT
 * The plan on paper, for the bench: its steps to tick off, each with the part as the hand holds it, and
 * templates in true size that find the places to drill. */
#ifndef TOOLS_SHEET_SHEET_H
#define TOOLS_SHEET_SHEET_H

#include "../plan/fill_plan.h"

/* Writes a PDF, whole or not at all. size: "a4" or "letter". DONE, or an exit code after a message. */
int plan_sheet(const tool *program, const fill_plan *plan, const char *file, const char *size);

#endif
