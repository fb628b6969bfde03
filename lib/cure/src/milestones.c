/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/cure.h>

#include <math.h>

/* As many resins at a time as stand on the stack. */
enum { BLOCK = 64, LEVELS = RW_MILESTONES - 1 };
typedef struct block {
  rw_cure_draw draw[BLOCK];
  rw_milestone order[BLOCK][LEVELS];
  double level[BLOCK][LEVELS], time[BLOCK][LEVELS], thick[BLOCK];
} block;

/* The milestones but work_end in rising order of their thresholds. */
static void rising(const rw_resin *r, rw_milestone order[LEVELS])
{
  size_t n = 0;
  for (int i = 0; i < RW_MILESTONES; i++) {
    if (i == RW_WORK_END)
      continue;
    size_t at = n++;
    for (; at > 0 && r->threshold[order[at - 1]].value > r->threshold[i].value; at--)
      order[at] = order[at - 1];
    order[at] = (rw_milestone)i;
  }
}

static void lay(const rw_resin *r, double shift, size_t i, block *b)
{
  rising(r, b->order[i]);
  b->draw[i] = (rw_cure_draw){
      .law = r->law, .shift = shift, .flow = &r->flow, .viscosity = r->work_viscosity};
  for (size_t l = 0; l < LEVELS; l++)
    b->level[i][l] = r->threshold[b->order[i][l]].value;
}

rw_status rw_cure_milestones(const rw_resin *resin, const double *shift, size_t n,
                             const rw_history *hull, double from, double to, double *time,
                             double *reached, rw_error *err)
{
  rw_draw_plan plan = {.from = from, .to = to, .tolerance = 1e-6, .levels = LEVELS};
  rw_status worst = RW_OK;
  block b;
  for (size_t first = 0; first < n; first += BLOCK) {
    size_t count = n - first < BLOCK ? n - first : BLOCK;
    for (size_t i = 0; i < count; i++)
      lay(&resin[first + i], shift != NULL ? shift[first + i] : 0, i, &b);
    rw_status status = rw_cure_draws(&plan, b.draw, count, hull, b.level[0], b.time[0], b.thick,
                                     reached != NULL ? reached + first : NULL, err);
    if (status < 0)
      return status;
    worst = rw_status_graver(worst, status);
    for (size_t i = 0; i < count; i++) {
      double *row = time + (first + i) * RW_MILESTONES;
      row[RW_WORK_END] = b.thick[i];
      for (size_t l = 0; l < LEVELS; l++)
        row[b.order[i][l]] = b.time[i][l];
    }
  }
  return worst;
}
