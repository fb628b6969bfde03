/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes every allocation of a job fail once, with the help of failing.c. */
#ifndef RW_TEST_EACH_FAILS_H
#define RW_TEST_EACH_FAILS_H

#include "check.h"
#include "failing.h"

/* Skips the test where allocations cannot be made to fail; call it before any set-up. */
void needs_failing(void);

/* Runs `job` with its first allocation failing, then its second, until it asks for fewer and is
 * RW_OK. Each failure must be a refusal, RW_ERR_MEMORY, that explains itself, with and without an
 * error to write to, and no run may leave a block behind. More than `least` runs are needed.
 *
 * A job frees what it made, is the same each time, and checks its own outputs. */
void each_fails_once(rw_status (*job)(void *scene, rw_error *err), void *scene, long least);

#endif
