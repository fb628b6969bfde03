/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of indices by hash, open addressing; its room is known from the start. */
#include "log_inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int rwi_log_set_open(rwi_log_set *s, size_t most)
{
  size_t room = 8;
  while (room < 2 * most + 2)
    room *= 2;
  *s = (rwi_log_set){.room = room};
  s->hash = malloc(room * sizeof *s->hash);
  s->index = calloc(room, sizeof *s->index);
  if (s->hash != NULL && s->index != NULL)
    return 1;
  rwi_log_set_close(s);
  return 0;
}

void rwi_log_set_close(rwi_log_set *s)
{
  free(s->hash);
  free(s->index);
  *s = (rwi_log_set){0};
}

static size_t slot_of(const rwi_log_set *s, uint64_t hash, size_t i, rwi_log_same *same,
                      const void *context)
{
  size_t at = (size_t)(hash ^ (hash >> 32)) & (s->room - 1);
  for (; s->index[at] != 0; at = (at + 1) & (s->room - 1))
    if (s->hash[at] == hash && same(context, s->index[at] - 1, i))
      break;
  return at;
}

size_t rwi_log_set_find(const rwi_log_set *s, uint64_t hash, size_t i, rwi_log_same *same,
                        const void *context)
{
  size_t at = slot_of(s, hash, i, same, context);
  return s->index[at] != 0 ? s->index[at] - 1 : i;
}

size_t rwi_log_set_put(rwi_log_set *s, uint64_t hash, size_t i, rwi_log_same *same,
                       const void *context)
{
  size_t at = slot_of(s, hash, i, same, context);
  if (s->index[at] == 0) {
    s->hash[at] = hash;
    s->index[at] = i + 1;
  }
  return s->index[at] - 1;
}

static const uint64_t PRIME = 1099511628211u; /* of the hash FNV-1a, memory */

static uint64_t step(uint64_t hash, unsigned char byte)
{
  return (hash ^ byte) * PRIME;
}

/* Letter case is not counted; texts are told apart from their neighbours. */
uint64_t rwi_log_hash(uint64_t before, const char *text)
{
  uint64_t hash = before;
  for (; *text != '\0'; text++)
    hash = step(hash, (unsigned char)(*text >= 'A' && *text <= 'Z' ? *text - 'A' + 'a' : *text));
  return step(hash, 0xFF);
}

uint64_t rwi_log_hash_number(uint64_t before, double number)
{
  unsigned char byte[sizeof number];
  memcpy(byte, &number, sizeof number);
  uint64_t hash = before;
  for (size_t i = 0; i < sizeof number; i++)
    hash = step(hash, byte[i]);
  return hash;
}
