/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing.h"

#include <errno.h>
#include <stdatomic.h>
#include <stdlib.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SANITIZED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) ||                        \
    __has_feature(memory_sanitizer)
#define SANITIZED 1
#endif
#endif

static atomic_long fails_at; /* 0: never */
static atomic_long asked;
static atomic_long live;

void failing_arm(long n)
{
  asked = 0;
  fails_at = n;
}

void failing_disarm(void)
{
  fails_at = 0;
}

long failing_count(void)
{
  return asked;
}

long failing_live(void)
{
  return live;
}

#if defined(__GLIBC__) && !defined(SANITIZED)

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void __libc_free(void *block);

/* Under valgrind the calls go elsewhere, which a call folded in here would not show. */
int failing_works(void)
{
  void *(*volatile allocate)(size_t) = malloc;
  long before = asked;
  free(allocate(1));
  return asked > before;
}

static int fails_now(void)
{
  long number = ++asked;
  if (fails_at == 0 || number != fails_at)
    return 0;
  errno = ENOMEM;
  return 1;
}

static void *counted(void *block)
{
  live += block != NULL;
  return block;
}

void *malloc(size_t size)
{
  return fails_now() ? NULL : counted(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
  return fails_now() ? NULL : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
  if (fails_now())
    return NULL;
  void *moved = __libc_realloc(block, size);
  live += block == NULL && moved != NULL;
  live -= block != NULL && moved == NULL && size == 0; /* glibc frees it */
  return moved;
}

void free(void *block)
{
  live -= block != NULL;
  __libc_free(block);
}

#else

int failing_works(void)
{
  return 0;
}

#endif
