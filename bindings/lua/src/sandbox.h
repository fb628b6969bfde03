/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A Lua state of its own for a file that holds data: no libraries, little memory, few steps. */
#ifndef RWL_SANDBOX_H
#define RWL_SANDBOX_H

#include <lua.h>
#include <stddef.h>
#include <time.h>

enum { RWL_SANDBOX_MIB = 16, RWL_SANDBOX_STEPS = 5000000, RWL_SANDBOX_SECONDS = 2 };

typedef struct rwl_sandbox {
  lua_State *state;
  size_t used;     /* bytes in use */
  long steps;      /* instructions run */
  clock_t started; /* processor time at the start of the run */
  int stopped;     /* 1 where it ran too long */
  int line;        /* line that ran last, 0 before the first */
} rwl_sandbox;

/* Returns 1, or 0 where there is no memory. The sandbox must not move while it is open. */
int rwl_sandbox_open(rwl_sandbox *s);
/* Loads and runs a text chunk named "f"; returns the status of Lua, results or the error are on
 * the stack of the state. */
int rwl_sandbox_run(rwl_sandbox *s, const char *text, size_t n);
/* May be called twice. */
void rwl_sandbox_close(rwl_sandbox *s);

#endif
