/* SPDX-License-Identifier: MIT
 * Floor 0: status and messages, memory, growing structs, progress, threads. */
#ifndef VUGI_BASE_BASE_H
#define VUGI_BASE_BASE_H

#include "base/context_types.h"
#include "base/memory.h"
#include "base/message.h"
#include "base/progress.h"
#include "base/structs.h"
#include "base/threads.h"

#endif
