/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cloth_range.h"

#include <string.h>

static const char *const NAMES[] = {
    [RW_PLAIN] = "plain",     [RW_TWILL] = "twill",
    [RW_SATIN] = "satin",     [RW_UNIDIRECTIONAL] = "unidirectional",
    [RW_BIAXIAL] = "biaxial", [RW_MAT] = "mat",
};
enum { WEAVES = sizeof NAMES / sizeof NAMES[0] };

const char *cloth_weave_name(rw_weave weave)
{
  return (size_t)weave < WEAVES ? NAMES[weave] : NULL;
}

rw_status rw_weave_find(const char *name, rw_weave *weave, rw_error *err)
{
  static const char *const me = "rw_weave_find";
  rw_status status = cloth_given(me, "name", name, err);
  if (status == RW_OK)
    status = cloth_given(me, "weave", weave, err);
  if (status != RW_OK)
    return status;
  for (size_t i = 0; i < WEAVES; i++) {
    if (strcmp(name, NAMES[i]) == 0) {
      *weave = (rw_weave)i;
      return RW_OK;
    }
  }
  int near = rw_nearest_name(name, NAMES, WEAVES);
  rw_error_set(err, RW_ERR_NAME, me, "name", NULL,
               "no weave is called \"%.60s\"; known are plain, twill, satin, unidirectional, "
               "biaxial and mat",
               name);
  if (err != NULL && near >= 0) {
    static const char question[] = "did you mean ";
    memcpy(err->hint, question, sizeof question);
    strncat(err->hint, NAMES[near], sizeof err->hint - sizeof question);
  }
  return RW_ERR_NAME;
}

/* But for parallel fibres (round, touching, in hexagons): common practice, no source. The rows
 * "default-WEAVE" of the cloth tables hold the same numbers with their spread. */
static const double LIMITS[] = {
    [RW_PLAIN] = 0.70,   [RW_TWILL] = 0.72,
    [RW_SATIN] = 0.75,   [RW_UNIDIRECTIONAL] = 0.90689968211710892, /* pi/(2 sqrt 3) */
    [RW_BIAXIAL] = 0.78, [RW_MAT] = 0.50,
};

double rw_weave_limit(rw_weave weave)
{
  return (size_t)weave < WEAVES ? LIMITS[weave] : 0.0;
}
