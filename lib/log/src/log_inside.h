/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside the room log. */
#ifndef RW_LOG_INSIDE_H
#define RW_LOG_INSIDE_H

#include <resinwright/log.h>

#include <resinwright/text.h>
#include <resinwright/units.h>

#include <stdint.h>

/* Kinds of row, bits so that a column may say which of them use it. */
enum { KIND_NONE = 0, KIND_BATCH = 1, KIND_EVENT = 2, KIND_READING = 4, KIND_CLOCK = 8 };

/* Columns: X(name, key, header as a new file has it, SI unit or NULL for a text, kinds). */
#define RWI_LOG_COLUMNS(X)                                                                        \
  X(COL_ROW, "row", "row", NULL, 15)                                                              \
  X(COL_BATCH, "batch", "batch", NULL, KIND_BATCH | KIND_EVENT)                                   \
  X(COL_TIME, "time", "time", NULL, KIND_BATCH | KIND_READING | KIND_CLOCK)                       \
  X(COL_ON_HULL, "on_hull", "on_hull", NULL, KIND_BATCH)                                          \
  X(COL_MASS, "mass", "mass [g]", "kg", KIND_BATCH)                                               \
  X(COL_RESIN, "resin", "resin [g]", "kg", KIND_BATCH)                                            \
  X(COL_HARDENER, "hardener", "hardener [g]", "kg", KIND_BATCH)                                   \
  X(COL_APPLIED, "applied", "applied [g]", "kg", KIND_BATCH)                                      \
  X(COL_FORM, "form", "form", NULL, KIND_BATCH | KIND_EVENT)                                      \
  X(COL_PLACE, "place", "place", NULL, KIND_BATCH | KIND_EVENT)                                   \
  X(COL_FOUND, "found", "found", NULL, KIND_EVENT)                                                \
  X(COL_NOT_YET, "not_yet", "not_yet", NULL, KIND_EVENT)                                          \
  X(COL_ALREADY, "already", "already", NULL, KIND_EVENT)                                          \
  X(COL_OBSERVER, "observer", "observer", NULL, KIND_EVENT)                                       \
  X(COL_AIR, "air", "air [degC]", "K", KIND_READING)                                              \
  X(COL_HULL, "hull", "hull [degC]", "K", KIND_READING)                                           \
  X(COL_HUMIDITY, "humidity", "humidity [%]", "", KIND_READING)                                   \
  X(COL_LOW, "low", "low [degC]", "K", KIND_READING)                                              \
  X(COL_HIGH, "high", "high [degC]", "K", KIND_READING)                                           \
  X(COL_SET_TO, "set_to", "set_to", NULL, KIND_CLOCK)                                             \
  X(COL_NOTE, "note", "note", NULL, 15)

enum {
#define RW_X(name, key, header, unit, kinds) name,
  RWI_LOG_COLUMNS(RW_X)
#undef RW_X
      COLS
};

/* A set of indices, told apart by a hash and a comparison. */
typedef struct rwi_log_set {
  size_t room; /* power of two, more than twice what goes in */
  uint64_t *hash;
  size_t *index; /* index + 1; 0 is empty */
} rwi_log_set;

typedef int rwi_log_same(const void *context, size_t a, size_t b);

int rwi_log_set_open(rwi_log_set *s, size_t most);
void rwi_log_set_close(rwi_log_set *s);
/* The index in the set that is the same as i; i itself, added, where there is none. */
size_t rwi_log_set_put(rwi_log_set *s, uint64_t hash, size_t i, rwi_log_same *same,
                       const void *context);
/* Likewise, adding nothing. */
size_t rwi_log_set_find(const rwi_log_set *s, uint64_t hash, size_t i, rwi_log_same *same,
                        const void *context);
uint64_t rwi_log_hash(uint64_t before, const char *text);
uint64_t rwi_log_hash_number(uint64_t before, double number);

/* A change of the clock on the wall: [low, high) never came or came twice. */
typedef struct rwi_log_change {
  double low;
  double high;
  double shift; /* s to add from then on */
} rwi_log_change;

struct rw_log {
  rw_table *table; /* owns every text */
  char separator;
  int carriage; /* lines end in CR LF */
  int has[COLS];
  rw_column col[COLS];
  int offset; /* 1 where its times have one */
  size_t changes, batches, events, readings, observers, notes, notes_room, left_out;
  rwi_log_change *change;
  rw_log_batch *batch;
  rw_log_event *event;
  rw_log_reading *reading;
  const char **observer;
  double *until; /* last look at each batch */
  rw_log_note *note;
};

/* What became of a row. */
typedef enum rwi_log_outcome { GOOD, LEFT_OUT, NO_MEMORY } rwi_log_outcome;

/* A log in the making. */
typedef struct rwi_log_reader {
  rw_log *log;
  rw_log_options o;
  size_t rows;
  unsigned char *kind; /* of every row; KIND_NONE for one left out */
  rwi_log_set names;   /* batches by name */
  rwi_log_set lost;    /* rows of batches that were left out, by name */
} rwi_log_reader;

#if defined(__GNUC__)
#define RWI_PRINTF(f, a) __attribute__((format(printf, f, a)))
#else
#define RWI_PRINTF(f, a)
#endif

/* notes.c */
int rwi_log_note_add(rw_log *l, long line, rw_status code, const char *hint, const char *text);
rwi_log_outcome rwi_log_fault(rwi_log_reader *r, size_t row, rw_status code, const char *hint,
                              const char *format, ...) RWI_PRINTF(5, 6);
rwi_log_outcome rwi_log_remark(rwi_log_reader *r, long line, const char *hint, const char *format,
                               ...) RWI_PRINTF(4, 5);
void rwi_log_notes_sort(rw_log *l);

/* lines.c */
rw_status rwi_log_lines(rw_log *l, char *bytes, size_t n);
long rwi_log_line_count(const char *bytes, size_t n);

/* columns.c */
const char *rwi_log_column_key(int column);
const char *rwi_log_column_header(int column);
const char *rwi_log_column_unit(int column);
rw_status rwi_log_columns(rwi_log_reader *r, const char *name, rw_error *err);
const char *rwi_log_cell(const rw_log *l, size_t row, int column);
long rwi_log_line(const rw_log *l, size_t row);
/* Message without "FILE, line N: " of the room text. */
const char *rwi_log_said(const rw_error *err);

/* cells.c: GOOD, or the row is left out */
rwi_log_outcome rwi_log_needed(rwi_log_reader *r, size_t row, int column, const char *kind);
rwi_log_outcome rwi_log_moment(rwi_log_reader *r, size_t row, int column, double *t);
rwi_log_outcome rwi_log_day(rwi_log_reader *r, size_t row, double *t);
rwi_log_outcome rwi_log_mass(rwi_log_reader *r, size_t row, int column, double *kg);
rwi_log_outcome rwi_log_temperature(rwi_log_reader *r, size_t row, int column, double *T);
rwi_log_outcome rwi_log_humidity(rwi_log_reader *r, size_t row, double *humidity);
rwi_log_outcome rwi_log_form(rwi_log_reader *r, size_t row, rw_log_form unless, rw_log_form *form);
rwi_log_outcome rwi_log_raw_clock(rwi_log_reader *r, size_t row, int column, double *t);
/* Nearest of n words as ", did you mean ...?" or a hint of its own. */
void rwi_log_nearest(const char *word, const char *const *known, size_t n, const char *otherwise,
                     char *hint, size_t size);

/* Kinds and doubled rows, offsets, changes of the clock; then one file each. */
rwi_log_outcome rwi_log_kinds(rwi_log_reader *r);
void rwi_log_offset(rwi_log_reader *r);
rwi_log_outcome rwi_log_changes(rwi_log_reader *r);
rwi_log_outcome rwi_log_read_batches(rwi_log_reader *r);
/* Index of the batch that a row names. */
rwi_log_outcome rwi_log_batch_of(rwi_log_reader *r, size_t row, size_t *batch);
void rwi_log_nearest_batch(const rw_log *l, const char *name, char *hint, size_t size);
rwi_log_outcome rwi_log_read_events(rwi_log_reader *r);
rwi_log_outcome rwi_log_read_readings(rwi_log_reader *r);
size_t rwi_log_rows_of(const rwi_log_reader *r, int kind);
rwi_log_outcome rwi_log_remarks(rwi_log_reader *r);

/* found.c: whether a word is a state that ends */
int rwi_log_passing(rw_log_found found);

/* temperature.c: readings, and lows and highs where there are none, by time. */
typedef struct rwi_log_anchors {
  size_t n;
  double *time;
  double *temperature;
  double *humidity;
} rwi_log_anchors;
rw_status rwi_log_anchors_of(const rw_log *l, rw_log_sensor sensor, const char *function,
                             rwi_log_anchors *a, rw_error *err);
void rwi_log_anchors_free(rwi_log_anchors *a);
size_t rwi_log_anchor_gaps(const rwi_log_anchors *a, double from, double to, double bridge,
                           rw_log_gap *gap, size_t room);

/* cells.c: "2026-10-03 15:30" with seconds where there are any, and a text after it */
void rwi_log_clock(double t, const char *after, char text[32]);
/* A time as the clock on the wall showed it. */
double rwi_log_on_wall(const rw_log *l, double t);
/* Likewise as a text for messages. */
void rwi_log_say(const rw_log *l, double t, char text[32]);

#endif
