/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: what is read can be written for both kinds of reader and reads back. */
#include "fuzz.h"

#include <float.h>
#include <math.h>

static int is_plain(rw_dim dim)
{
  return rw_dim_same(dim, rw_dim_of("1"));
}

/* Near the ends of the doubles a change of unit may leave them. */
static int is_moderate(double x)
{
  return x == 0 || (fabs(x) > 1e-250 && fabs(x) < 1e250);
}

static void comes_back(const rw_quantity *q, rw_unit_system system, int digits)
{
  char text[160], unit[96];
  rw_quantity back;
  size_t n = rw_quantity_write(q, system, digits, text, sizeof text);
  HOLDS(n == strlen(text) && n < 128);
  double value;
  rw_quantity_unit(q, system, unit, sizeof unit);
  HOLDS(rw_quantity_in(q, unit, &value, NULL) == RW_OK);
  if (is_plain(q->dim) || !is_moderate(q->si))
    return;
  HOLDS(rw_quantity_read(text, n, &back, NULL) == RW_OK);
  HOLDS(rw_dim_same(back.dim, q->dim) && back.point == q->point);
  double lost = 0.500001 * pow(10, 1 - digits) + 16 * DBL_EPSILON;
  double offset = q->point ? 500 : 0; /* kelvin; the reading itself may be near 0 */
  HOLDS(fabs(back.si - q->si) <= lost * (fabs(q->si) + offset));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = exact_copy(data, size);
  rw_quantity q = {77, {{7}}, 7};
  rw_error err;
  rw_status status = rw_quantity_read(text, size, &q, &err);
  if (status == RW_OK) {
    HOLDS(isfinite(q.si) && (q.point == 0 || q.point == 1));
    static const int digits[] = {1, 2, 3, 6, 17};
    for (size_t i = 0; i < sizeof digits / sizeof digits[0]; i++) {
      comes_back(&q, RW_METRIC, digits[i]);
      comes_back(&q, RW_US, digits[i]);
    }
  } else {
    explained(&err, status, "rw_quantity_read");
    HOLDS(err.column > 0 && (size_t)err.column <= size + 1 && err.hint[0] != '\0');
    HOLDS(q.si == 77 && q.dim.power[0] == 7 && q.point == 7);
  }
  free(text);
  return 0;
}
