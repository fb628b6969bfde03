/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside the room text. */
#ifndef RW_TEXT_PRIVATE_H
#define RW_TEXT_PRIVATE_H

#include <resinwright/text.h>

/* Room for a file name in a message. */
enum { RWI_NAME = 64 };

/* The file name, its front cut off where it is too long. */
void rwi_text_name(const char *path, char name[RWI_NAME]);

/* rw_text_slurp, complaining in the name of another function. */
rw_status rwi_text_slurp(const char *function, const char *path, size_t limit, char **bytes,
                         size_t *n, rw_error *err);

#endif
