/* SPDX-License-Identifier: MIT
 * Skins, for the floors above. */
#ifndef VUGI_SKIN_SKIN_H
#define VUGI_SKIN_SKIN_H

#include "cavity/cavity.h"

/* Bytes of a skin with the usual pieces. */
double vugi_skin_pieces_bytes(const vug_cavities *cavities);

#endif
