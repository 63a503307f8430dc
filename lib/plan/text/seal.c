/* SPDX-License-Identifier: MIT
 * How to close it. */
#include "plan/text/seal.h"

void vugi_write_seal(vugi_writing *w)
{
    vugi_page_title(&w->page,
        "Seal: wipe the rims, plug the openings as the glue's data sheet says, in fresh air.");
}
