/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Much work of one kind shared out to threads in blocks. */
#ifndef RW_BASE_SHARE_H
#define RW_BASE_SHARE_H

#include <resinwright/base.h>

/* Does pieces `first` up to below `end`; 0 where one of them failed. */
typedef int rw_share_work(size_t first, size_t end, void *job);

typedef struct rw_share {
  size_t n;              /* pieces of work */
  size_t block;          /* pieces that a thread takes at a time */
  unsigned threads;      /* 0 or 1: none but the caller's; at most RW_SHARE_THREADS */
  rw_progress *progress; /* told after each block by one thread at a time, or NULL */
  void *context;         /* handed to progress */
} rw_share;

enum { RW_SHARE_THREADS = 64 };

typedef struct rw_shared {
  size_t done; /* the pieces below it are done, no others; n unless stopped */
  int stopped, failed;
} rw_shared;

/* Does all pieces, or those up to where progress says stop. With fewer threads than asked for
 * where the system gives no more. */
rw_shared rw_share_out(const rw_share *how, rw_share_work *work, void *job);

#endif
