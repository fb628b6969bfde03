/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for any log: what is written reads back, bad rows spoil no good ones, a log that
 * is cut off anywhere gives the rows before the cut. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char book[] = "property_log.csv";

/* Numbers from 0 to 1, the same in every run (a linear congruence modulo 2^64). */
static double uniform(uint64_t *seed)
{
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

static size_t pick(uint64_t *seed, size_t n)
{
  return (size_t)(uniform(seed) * (double)n);
}

static double seconds(uint64_t *seed, double low, double high)
{
  return floor(low + (high - low) * uniform(seed));
}

/* A number, or now and then none. */
static double perhaps(uint64_t *seed, double value)
{
  return uniform(seed) < 0.7 ? value : NAN;
}

static const char *odd_text(uint64_t *seed)
{
  static const char *const texts[] = {
      "",    "bow",       "keel, port",  "\"so\"",           " blank ", "# 3",
      "a;b", "tab\there", "caf\xC3\xA9", "\xEF\xBB\xBFmark", "-",       "film",
  };
  return texts[pick(seed, sizeof texts / sizeof *texts)];
}

enum { BATCHES = 8, EVENTS = 24, READINGS = 12, ROUNDS = 5 };
static const double START = 1.79e9, DAY = 86400, HOUR = 3600;

/* A log in memory, as it should read back. */
typedef struct made {
  int universal;
  char name[BATCHES][24];
  rw_log_batch batch[BATCHES];
  rw_log_event event[EVENTS];
  rw_log_reading reading[READINGS];
} made;

static void make_batch(uint64_t *seed, made *m, size_t i)
{
  snprintf(m->name[i], sizeof m->name[i], "%zu%s", i, odd_text(seed));
  rw_log_batch *b = &m->batch[i];
  double resin = 0.05 + uniform(seed), hardener = resin * (0.43 + 0.02 * uniform(seed));
  *b = (rw_log_batch){.name = m->name[i],
                      .mixed = START + DAY * (double)i + seconds(seed, 0, DAY),
                      .resin = perhaps(seed, resin),
                      .hardener = perhaps(seed, hardener),
                      .mass = resin + hardener,
                      .place = odd_text(seed),
                      .form = pick(seed, 2) ? RW_LOG_CUP : RW_LOG_FILM};
  b->on_hull = perhaps(seed, b->mixed + seconds(seed, 0, HOUR));
  b->applied = perhaps(seed, b->mass * uniform(seed));
}

/* Each word of a batch once, in the order of the stages. */
static void make_event(uint64_t *seed, made *m, size_t i)
{
  static const char *const observers[] = {"", "Ann", "Bob, the second"};
  rw_log_event *e = &m->event[i];
  *e = (rw_log_event){.batch = i % BATCHES,
                      .found = (rw_log_found)((i / BATCHES * 3 + i) % RW_FOUND_WORDS),
                      .form = pick(seed, 2) ? RW_LOG_CUP : RW_LOG_FILM,
                      .place = odd_text(seed),
                      .observer = observers[pick(seed, 3)]};
  double t =
      m->batch[e->batch].mixed + HOUR * rw_log_found_stage(e->found) + seconds(seed, 0, HOUR / 3);
  e->known = (rw_log_known)pick(seed, 4);
  e->not_yet = e->known == RW_LOG_LEFT ? NAN : t;
  e->already =
      e->known == RW_LOG_RIGHT ? NAN : t + (e->known != RW_LOG_EXACT) * seconds(seed, 1, HOUR / 3);
}

static void make_reading(uint64_t *seed, made *m, size_t i)
{
  rw_log_reading *a = &m->reading[i];
  double T = 280 + 25 * uniform(seed), day = floor(START / DAY) + (double)i;
  *a = (rw_log_reading){day * DAY, NAN, NAN, NAN, NAN, NAN, 0};
  if (i % 3 == 0) {
    a->low = T;
    a->high = T + 10 * uniform(seed);
    return;
  }
  a->time += seconds(seed, 0, DAY);
  a->air = T;
  a->hull = perhaps(seed, T - 3);
  a->humidity = perhaps(seed, uniform(seed));
}

/* The names stay where they are, so it is not copied. */
static void make(uint64_t *seed, made *m)
{
  m->universal = (int)pick(seed, 2);
  for (size_t i = 0; i < BATCHES; i++)
    make_batch(seed, m, i);
  for (size_t i = 0; i < EVENTS; i++)
    make_event(seed, m, i);
  for (size_t i = 0; i < READINGS; i++)
    make_reading(seed, m, i);
}

static void write_down(const made *m)
{
  rw_error err;
  remove(book);
  for (size_t i = 0; i < BATCHES; i++)
    assert_ok(rw_log_add_batch(book, &m->batch[i], m->universal, &err), &err);
  for (size_t i = 0; i < EVENTS; i++)
    assert_ok(rw_log_add_event(book, m->name[m->event[i].batch], &m->event[i], m->universal, &err),
              &err);
  for (size_t i = 0; i < READINGS; i++)
    assert_ok(rw_log_add_reading(book, &m->reading[i], m->universal, &err), &err);
}

/* Twelve digits are written. */
static void same_number(double a, double b)
{
  assert_int_equal(isnan(a), isnan(b));
  if (!isnan(b))
    assert_close(a, b, 1e-11 * fabs(b));
}

static void same_time(double a, double b)
{
  assert_int_equal(isnan(a), isnan(b));
  if (!isnan(b))
    assert_close(a, b, 0);
}

static void same_batch(const rw_log_batch *a, const rw_log_batch *b)
{
  assert_string_equal(a->name, b->name);
  assert_string_equal(a->place, b->place);
  assert_int_equal(a->form, b->form);
  same_time(a->mixed, b->mixed);
  same_time(a->on_hull, b->on_hull);
  same_number(a->mass, b->mass);
  same_number(a->resin, b->resin);
  same_number(a->hardener, b->hardener);
  same_number(a->applied, b->applied);
}

static void same_event(const rw_log_event *a, const rw_log_event *b)
{
  assert_int_equal(a->batch, b->batch);
  assert_int_equal(a->found, b->found);
  assert_int_equal(a->known, b->known);
  assert_int_equal(a->form, b->form);
  assert_string_equal(a->place, b->place);
  assert_string_equal(a->observer, b->observer);
  same_time(a->not_yet, b->not_yet);
  same_time(a->already, b->already);
}

static void same_reading(const rw_log_reading *a, const rw_log_reading *b)
{
  same_time(a->time, b->time);
  same_number(a->air, b->air);
  same_number(a->hull, b->hull);
  same_number(a->humidity, b->humidity);
  same_number(a->low, b->low);
  same_number(a->high, b->high);
}

static void same_log(const rw_log *a, const rw_log *b)
{
  assert_int_equal(rw_log_batches(a), rw_log_batches(b));
  assert_int_equal(rw_log_events(a), rw_log_events(b));
  assert_int_equal(rw_log_readings(a), rw_log_readings(b));
  assert_int_equal(rw_log_observers(a), rw_log_observers(b));
  assert_int_equal(rw_log_universal(a), rw_log_universal(b));
  for (size_t i = 0; i < rw_log_batches(a); i++)
    same_batch(rw_log_batch_at(a, i), rw_log_batch_at(b, i));
  for (size_t i = 0; i < rw_log_events(a); i++)
    same_event(rw_log_event_at(a, i), rw_log_event_at(b, i));
  for (size_t i = 0; i < rw_log_readings(a); i++)
    same_reading(rw_log_reading_at(a, i), rw_log_reading_at(b, i));
}

static void what_is_written_reads_back(void **state)
{
  (void)state;
  uint64_t seed = 11;
  for (int round = 0; round < ROUNDS; round++) {
    made m;
    make(&seed, &m);
    write_down(&m);
    rw_log *l = NULL;
    rw_error err;
    assert_ok(rw_log_read(book, NULL, &l, &err), &err);
    assert_int_equal(rw_log_universal(l), m.universal);
    assert_int_equal(rw_log_batches(l), BATCHES);
    assert_int_equal(rw_log_events(l), EVENTS);
    assert_int_equal(rw_log_readings(l), READINGS);
    for (size_t i = 0; i < BATCHES; i++)
      same_batch(rw_log_batch_at(l, i), &m.batch[i]);
    for (size_t i = 0; i < EVENTS; i++)
      same_event(rw_log_event_at(l, i), &m.event[i]);
    for (size_t i = 0; i < READINGS; i++)
      same_reading(rw_log_reading_at(l, i), &m.reading[i]);
    rw_log_destroy(l);
  }
  assert_int_equal(remove(book), 0);
}

static char *written(uint64_t seed, size_t *n)
{
  made m;
  make(&seed, &m);
  write_down(&m);
  char *bytes = NULL;
  rw_error err;
  assert_ok(rw_text_slurp(book, 1 << 24, &bytes, n, &err), &err);
  assert_int_equal(remove(book), 0);
  return bytes;
}

static rw_log *kept(const char *bytes, size_t n)
{
  rw_log_options o = {.keep_good = 1};
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(bytes, n, NULL, &o, &l, &err), &err);
  return l;
}

static size_t header_of(const char *bytes)
{
  return strcspn(bytes, "\n") + 1;
}

static void cut_off_anywhere(void **state)
{
  (void)state;
  size_t n;
  char *bytes = written(21, &n);
  rw_log *whole = kept(bytes, n);
  for (size_t at = header_of(bytes); at < n; at += 7) {
    char *part = malloc(at);
    assert_non_null(part);
    memcpy(part, bytes, at);
    rw_log *l = kept(part, at);
    size_t batches = rw_log_batches(l), events = rw_log_events(l), notes = rw_log_notes(l);
    assert_true(batches <= BATCHES && events <= EVENTS && rw_log_left_out(l) <= 1);
    /* The last row may have lost the end of its last cell, and then says so. */
    int unended = notes > 0 && strstr(rw_log_note_at(l, notes - 1)->text, "last row") != NULL;
    for (size_t i = 0; i + (unended && events == 0) < batches; i++)
      same_batch(rw_log_batch_at(l, i), rw_log_batch_at(whole, i));
    for (size_t i = 0; i + (size_t)unended < events; i++)
      same_event(rw_log_event_at(l, i), rw_log_event_at(whole, i));
    rw_log_destroy(l);
    free(part);
  }
  rw_log_destroy(whole);
  free(bytes);
}

/* Rows that cannot be right, set between good ones anywhere, are left out and nothing else. */
static void bad_rows_spoil_no_good_ones(void **state)
{
  (void)state;
  static const char *const bad[] = {
      "batch,\"torn\n",
      "events,,,,,,,,,,,,,,,,,,,,\n",
      "batch,x,15:30,,,,,,,,,,,,,,,,,,\n",
      "event,no such,,,,,,,,,hard,2026-10-04 08:30,,,,,,,,,\n",
      "reading,,,,,,,,,,,,,,66,,,,,,\n",
      "too,few\n",
      "batch,x,2026-13-30 15:30,,,,,,,,,,,,,,,,,,\n",
      "batch,x,,,0,0,0,0,tin,,,,,,,,,,,,\n",
  };
  enum { BAD = sizeof bad / sizeof *bad };
  size_t n;
  char *bytes = written(31, &n);
  rw_log *whole = kept(bytes, n);
  uint64_t seed = 32;
  for (int round = 0; round < 200; round++) {
    char *mixed = malloc(n + 4000);
    assert_non_null(mixed);
    size_t to = header_of(bytes), added = 0;
    memcpy(mixed, bytes, to);
    for (size_t at = to; at < n;) {
      size_t length = header_of(bytes + at);
      if (added < 40 && uniform(&seed) < 0.3) {
        const char *row = bad[(added + (size_t)round) % BAD];
        /* The same row twice would count as one that stands twice, which is left out too. */
        memcpy(mixed + to, row, strlen(row));
        to += strlen(row);
        added++;
      }
      memcpy(mixed + to, bytes + at, length);
      to += length;
      at += length;
    }
    rw_log *l = kept(mixed, to);
    assert_int_equal(rw_log_left_out(l), added);
    same_log(l, whole);
    rw_log_destroy(l);
    rw_log *strict = NULL;
    rw_error err;
    rw_status status = rw_log_parse(mixed, to, NULL, NULL, &strict, &err);
    assert_int_equal(status<0, added> 0);
    rw_log_destroy(strict);
    free(mixed);
  }
  rw_log_destroy(whole);
  free(bytes);
}

/* The same text gives the same log, whatever the line ends. */
static void line_ends_do_not_count(void **state)
{
  (void)state;
  size_t n, to = 0;
  char *bytes = written(41, &n);
  rw_log *whole = kept(bytes, n);
  char *other = malloc(2 * n + 3);
  assert_non_null(other);
  memcpy(other, "\xEF\xBB\xBF", 3);
  to = 3;
  for (size_t i = 0; i < n; i++) {
    if (bytes[i] == '\n')
      other[to++] = '\r';
    if (bytes[i] != '\n' || i % 2 == 0)
      other[to++] = bytes[i];
  }
  rw_log *l = kept(other, to);
  same_log(l, whole);
  assert_int_equal(rw_log_notes(l), rw_log_notes(whole));
  rw_log_destroy(l);
  rw_log_destroy(whole);
  free(other);
  free(bytes);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(what_is_written_reads_back),
      cmocka_unit_test(cut_off_anywhere),
      cmocka_unit_test(bad_rows_spoil_no_good_ones),
      cmocka_unit_test(line_ends_do_not_count),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
