/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units: what is read agrees with its own inverse, and its dimension's name or SI unit reads back.
 */
#include "fuzz.h"

#include <float.h>
#include <math.h>

static void inverse_agrees(const char *text, size_t size, double factor, rw_dim dim)
{
  double inverse = NAN, offset = NAN;
  rw_dim below;
  char *per = malloc(size + 4);
  HOLDS(per != NULL);
  memcpy(per, "1/(", 3);
  memcpy(per + 3, text, size);
  per[size + 3] = ')';
  rw_status status = rw_unit_read(per, size + 4, &inverse, &offset, &below, NULL);
  free(per);
  if (status != RW_OK) /* ounces, brackets too deep, sizes near the end of the doubles */
    return;
  HOLDS(offset == 0 && fabs(inverse * factor - 1) < 200 * DBL_EPSILON);
  for (int i = 0; i < RW_DIM_COUNT; i++)
    HOLDS(below.power[i] == -dim.power[i]);
}

static void dimension_reads_back(rw_dim dim)
{
  char name[128], unit[128];
  rw_quantity q = {2, dim, 0};
  double factor, offset;
  rw_dim back;
  HOLDS(rw_dim_name(dim, name, sizeof name) == strlen(name));
  HOLDS(rw_quantity_unit(&q, RW_METRIC, unit, sizeof unit) == strlen(unit));
  HOLDS(rw_unit_read(unit, strlen(unit), &factor, &offset, &back, NULL) == RW_OK);
  HOLDS(rw_dim_same(back, dim) && offset == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = exact_copy(data, size);
  double factor = 77, offset = 77;
  rw_dim dim = {{7}};
  rw_error err;
  rw_status status = rw_unit_read(text, size, &factor, &offset, &dim, &err);
  if (status == RW_OK) {
    HOLDS(factor >= DBL_MIN && factor <= DBL_MAX && offset >= 0);
    for (int i = 0; i < RW_DIM_COUNT; i++)
      HOLDS(dim.power[i] >= -9 && dim.power[i] <= 9);
    inverse_agrees(text, size, factor, dim);
    dimension_reads_back(dim);
  } else {
    explained(&err, status, "rw_unit_read");
    HOLDS(status == RW_ERR_UNIT && err.column > 0 && (size_t)err.column <= size + 1);
    HOLDS(err.hint[0] != '\0');
    HOLDS(factor == 77 && offset == 77 && dim.power[0] == 7);
  }
  free(text);
  return 0;
}
