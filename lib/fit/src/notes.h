/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Event notes from the inside: the state of the search and what a fit keeps. */
#ifndef RW_FIT_NOTES_H
#define RW_FIT_NOTES_H

#include "tail.h"

/* Places of the unknowns: these, then a milestone each, then an observer each, then, in a test,
 * one more. The energy counts in kJ/mol. */
enum { NOTES_RATE, NOTES_ENERGY, NOTES_SCATTER, NOTES_FIRST };
enum { NOTES_OBSERVERS = 20, NOTES_MOST = NOTES_FIRST + RW_MILESTONES + NOTES_OBSERVERS + 1 };

/* A milestone as the prior's law has it at T_ref. */
typedef struct notes_mark {
  int place;      /* among the unknowns; -1: never reached */
  double cure;    /* degree of cure */
  double log_age; /* ln s at T_ref */
  double *speed;  /* how much faster than at T_ref it is reached, in ln, at the grid's places */
  double sd;      /* of log_age, from the threshold alone */
  double slope;   /* of the degree of cure by log_age */
} notes_mark;

/* Places at which the speeds stand, even in u = (1/T - 1/T_ref)/R: there they are straight lines
 * for a law of one energy. */
typedef struct notes_grid {
  size_t n; /* 2 or more */
  double first, step;
  double *room; /* of all speeds */
} notes_grid;

/* How a bound's ln age moves with the energy (kJ/mol). */
typedef struct notes_age {
  double y, first, second;
} notes_age;

/* A stay at changing temperatures as stays at a few, which has the same age at any energy: over
 * the temperatures met exp(-shift u) is nearly a polynomial of u, and an integral of that comes
 * out of its values at Chebyshev's places. To 1e-10 of the age up to 30 kJ/mol and 60 K apart. */
enum { NOTES_STAYS = 12 };
typedef struct notes_stays {
  double u[NOTES_STAYS], span[NOTES_STAYS]; /* (1/T - 1/T_ref)/R; s at T_ref, not all above 0 */
} notes_stays;

typedef enum notes_form { NOTES_EXACT, NOTES_AFTER, NOTES_BEFORE, NOTES_BETWEEN } notes_form;

/* A note as the search sees it. */
typedef struct notes_row {
  notes_form form;
  const rw_history *hull;
  double mixed, low, high; /* s */
  rw_milestone event;
  size_t batch, observer;
  double weight;
} notes_row;

typedef struct notes_problem {
  const notes_mark *mark; /* RW_MILESTONES of them */
  const notes_grid *grid;
  double T_ref;
  double lever;     /* of the energy on the rate at T_ref, mol/kJ */
  double energy[2]; /* kJ/mol, bounds of the energy's shift */
  const notes_row *row;
  size_t rows;
  const notes_stays *stays; /* until low and until high of each row; NULL: go by the histories */
  size_t observers;
  size_t m;            /* unknowns */
  const double *extra; /* by batch: how ln of its times moves with unknown m - 1; or NULL */
  const double *mean;  /* m */
  const double *prior; /* m*m, inverse of the prior's covariance */
  int held;            /* 1: the scatter stays */
  /* A spring on a sum of unknowns, m of them; NULL: none. Where the search settles is the most
   * probable place with that sum, whatever the spring. */
  const double *sum;
  double to, spring;
} notes_problem;

typedef struct notes_state {
  double at[NOTES_MOST];
  double slope[NOTES_MOST];              /* of the log posterior */
  double minus[NOTES_MOST * NOTES_MOST]; /* minus its second derivatives, m*m by rows */
  double factor[NOTES_MOST * NOTES_MOST];
  double posterior;
  double likelihood;
  unsigned steps;
} notes_state;

/* The posterior at one value of the scatter: normal in all else. */
typedef struct notes_layer {
  double weight;
  double at[NOTES_MOST];
  double covariance[NOTES_MOST * NOTES_MOST]; /* m*m by rows, 0 for the scatter */
} notes_layer;
enum { NOTES_LAYERS = 24 };

struct rw_notes {
  rw_notes_prior prior;
  double T_ref, lever;
  notes_mark mark[RW_MILESTONES];
  notes_grid grid;
  rw_cure_path *path; /* the prior's law at T_ref */
  size_t m, observers, batches, data_rows, rows;
  size_t not_yet[RW_MILESTONES], already[RW_MILESTONES];
  double mean[NOTES_MOST];
  double before[NOTES_MOST * NOTES_MOST]; /* covariance, m*m by rows */
  double precision[NOTES_MOST * NOTES_MOST];
  double at[NOTES_MOST];
  double after[NOTES_MOST * NOTES_MOST];
  double joint[NOTES_MOST]; /* most probable values with the scatter among them */
  double posterior;         /* there */
  double likelihood, clumps;
  notes_layer *layer;
  size_t layers;
  unsigned steps;
  rw_notes_row_result *result; /* data_rows */
};

/* ln of the age at T_ref with a milestone's speeds and its derivatives by the shift of the energy,
 * here in J/mol. */
notes_age notes_age_of(const rw_history *h, double from, double to, const notes_grid *grid,
                       const double *speed, double shift, double T_ref);
/* The same by stays. */
void notes_stays_of(const rw_history *h, double from, double to, const notes_grid *grid,
                    const double *speed, double T_ref, notes_stays *out);
notes_age notes_stays_age(const notes_stays *s, double shift);
/* Mean temperature between two times. */
double notes_mean_temperature(const rw_history *h, double from, double to);

/* Marks of the prior's resin at T_ref with their speeds from the coldest to the warmest that the
 * notes have met, and the path of its law at T_ref. */
rw_status notes_marks(rw_notes *f, double coldest, double warmest, rw_error *err);
/* Degree of cure at a milestone whose ln age has moved. */
double notes_cure_at(const rw_notes *f, rw_milestone m, double moved);
/* Slope of ln viscosity by the degree of cure. */
double notes_thickening(const rw_flow *f, double a);
/* The resin at given unknowns; `later` is added to all ln ages. */
void notes_resin_at(const rw_notes *f, const double *at, double later, rw_resin *out);

/* Notes that count, and room for the stays of each. */
typedef struct notes_taken {
  notes_row *row;
  notes_stays *stays;
  size_t rows;
} notes_taken;

/* The notes that count; 0 where there is not enough memory. */
int notes_take(const rw_notes_data *d, notes_taken *out);
void notes_taken_free(notes_taken *n);
/* The notes that were fitted, with their stays, into an empty `out`; refuses other ones. */
rw_status notes_take_again(const char *function, const rw_notes *f, const rw_notes_data *d,
                           notes_taken *out, rw_error *err);
/* The search as a fit makes it. */
notes_problem notes_problem_of(const rw_notes *f, const notes_taken *n);
/* Two stays for each row of a problem. */
void notes_gather_stays(const notes_problem *p, notes_stays *out);
rw_status notes_check_data(const rw_notes_data *d, rw_error *err);
rw_status notes_unsettled(const char *function, rw_error *err);
rw_status notes_no_memory(const char *function, rw_error *err);

/* Bounds of a row in standard units at a state. */
void notes_bounds(const notes_problem *p, const notes_row *r, const double *at, double *low,
                  double *high);
/* How a row pulls at its own middle in standard units, and minus the slope of that pull: what its
 * variance is on the average. */
double notes_pull(const notes_problem *p, const notes_row *r, const double *at, double *bend);
/* Adds what one row says to slopes and, unless NULL, to minus the second derivatives; returns its
 * log-likelihood, weighted. */
double notes_add(const notes_problem *p, const notes_row *r, const double *at, double *slope,
                 double *minus);
/* Looks for the most probable values; 0 where it does not settle. */
int notes_search(const notes_problem *p, notes_state *s);
/* From the most probable values in s: the layers over the scatter, the best value of the scatter
 * with all else integrated, and mean covariance. */
rw_status notes_integrate(rw_notes *f, const notes_problem *p, notes_state *s, rw_error *err);

#endif
