/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes a chosen allocation fail, and counts blocks.
 *
 * failing.c defines malloc, calloc, realloc and free for the whole program, shared libraries
 * included, and hands on to the C library's own (glibc). Link it into programs that need it, never
 * into an archive, where it would be drawn into every program. Built with a sanitizer, which has
 * an allocator of its own, without glibc, or run by valgrind it does nothing and failing_works()
 * is 0. */
#ifndef RW_TEST_FAILING_H
#define RW_TEST_FAILING_H

/* 1 where allocations can be made to fail. */
int failing_works(void);
/* The n-th allocation from now fails, n from 1; later ones succeed. */
void failing_arm(long n);
/* No allocation fails any more. */
void failing_disarm(void);
/* Allocations asked for since failing_arm. */
long failing_count(void);
/* Blocks allocated and not freed; only differences mean something. */
long failing_live(void);

#endif
