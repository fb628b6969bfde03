/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words for what was found. */
#include "log_inside.h"

#include <string.h>

typedef struct word {
  const char *key;
  int stage;
  int passing;
  const char *text;
} word;

static const word words[] = {
#define RW_X(name, key, stage, passing, text) {key, stage, passing, text},
    RW_LOG_FOUND_LIST(RW_X)
#undef RW_X
};

static const word *word_at(rw_log_found found)
{
  int i = (int)found;
  return i >= 0 && i < RW_FOUND_WORDS ? &words[i] : NULL;
}

const char *rw_log_found_key(rw_log_found found)
{
  const word *w = word_at(found);
  return w != NULL ? w->key : NULL;
}

const char *rw_log_found_text(rw_log_found found)
{
  const word *w = word_at(found);
  return w != NULL ? w->text : NULL;
}

int rw_log_found_stage(rw_log_found found)
{
  const word *w = word_at(found);
  return w != NULL ? w->stage : 0;
}

int rwi_log_passing(rw_log_found found)
{
  return word_at(found)->passing;
}
