/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "share.h"

#include <pthread.h>

/* What stands below `lock` is shared by the threads. */
typedef struct shop {
  const rw_share *how;
  rw_share_work *work;
  void *job;
  pthread_mutex_t lock;
  size_t next; /* first piece nobody has taken yet */
  rw_shared so_far;
} shop;

static void *take_blocks(void *context)
{
  shop *s = context;
  const rw_share *how = s->how;
  pthread_mutex_lock(&s->lock);
  while (s->next < how->n && !s->so_far.stopped) {
    size_t first = s->next, end = how->n - first < how->block ? how->n : first + how->block;
    s->next = end;
    pthread_mutex_unlock(&s->lock);
    int fine = s->work(first, end, s->job);
    pthread_mutex_lock(&s->lock);
    s->so_far.failed |= !fine;
    s->so_far.done += end - first;
    if (how->progress != NULL && !s->so_far.stopped &&
        how->progress(s->so_far.done, how->n, how->context) != 0)
      s->so_far.stopped = 1;
  }
  pthread_mutex_unlock(&s->lock);
  return NULL;
}

rw_shared rw_share_out(const rw_share *how, rw_share_work *work, void *job)
{
  shop s = {.how = how, .work = work, .job = job, .lock = PTHREAD_MUTEX_INITIALIZER};
  pthread_t thread[RW_SHARE_THREADS];
  unsigned running = 0;
  for (; running + 1 < how->threads && running < RW_SHARE_THREADS; running++)
    if (pthread_create(&thread[running], NULL, take_blocks, &s) != 0)
      break; /* the work is done with those there are */
  take_blocks(&s);
  for (unsigned i = 0; i < running; i++)
    pthread_join(thread[i], NULL);
  pthread_mutex_destroy(&s.lock);
  return s.so_far;
}
