/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logbook: what is read, what is left out and why, temperatures, appending. All logs invented.
 */
#include "tempfile.h"

#include <errno.h>
#include <math.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>

static const double HOUR = 3600, ZERO = 273.15;

#define HEAD                                                                                      \
  "row,batch,time,on_hull,mass [g],resin [g],hardener [g],applied [g],form,place,found,not_yet,"  \
  "already,observer\n"
#define BATCH_4 "batch,4,2026-10-03 14:05,2026-10-03 14:40,412,286,126,390,,bow,,,,\n"
#define READING "row,time,air [degC],hull [degC],humidity [%],low [degC],high [degC]\n"

static double clock_of(const char *text)
{
  double t = NAN;
  rw_error err;
  assert_ok(rw_text_clock(text, strlen(text), &t, NULL, &err), &err);
  return t;
}

static rw_log *log_of(const char *text, int keep_good)
{
  rw_log_options o = {.keep_good = keep_good};
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(text, strlen(text), "book.csv", &o, &l, &err), &err);
  assert_non_null(l);
  return l;
}

static int word_in(const char *text, const char *word)
{
  return strstr(text, word) != NULL;
}

/* The sentence or what it says to try names a word, and there is something to try. */
static void told(const rw_error *err, const char *word)
{
  if (!word_in(err->message, word) && !word_in(err->hint, word))
    print_error("\"%s\" (%s) does not name \"%s\"\n", err->message, err->hint, word);
  assert_true(word_in(err->message, word) || word_in(err->hint, word));
  assert_true(strlen(err->hint) > 0);
}

/* The whole log is refused; with the good rows kept, one row is left out and says the same. */
static void left_out(const char *text, rw_status code, long line, const char *words)
{
  rw_log *l = NULL;
  rw_error err;
  assert_status(rw_log_parse(text, strlen(text), "book.csv", NULL, &l, &err), code, &err);
  assert_null(l);
  told(&err, words);
  char place[40];
  snprintf(place, sizeof place, "book.csv, line %ld: ", line);
  assert_true(strncmp(err.message, place, strlen(place)) == 0);
  assert_int_equal(err.line, line);
  assert_string_equal(err.function, "rw_log_parse");
  assert_string_equal(err.argument, "book.csv");
  assert_status(rw_log_parse(text, strlen(text), NULL, NULL, &l, NULL), code, NULL);

  l = log_of(text, 1);
  int found = 0;
  assert_int_equal(rw_log_left_out(l), 1);
  for (size_t i = 0; i < rw_log_notes(l); i++) {
    const rw_log_note *note = rw_log_note_at(l, i);
    if (!note->left_out)
      continue;
    found++;
    assert_int_equal(note->line, line);
    assert_int_equal(note->code, code);
    assert_true(word_in(note->text, words) || word_in(note->hint, words));
  }
  assert_int_equal(found, 1);
  rw_log_destroy(l);
}

/* Nothing is left out, and a remark says so. */
static void remarked(const char *text, const rw_log_options *o, long line, const char *words)
{
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(text, strlen(text), NULL, o, &l, &err), &err);
  int found = 0;
  for (size_t i = 0; i < rw_log_notes(l); i++) {
    const rw_log_note *note = rw_log_note_at(l, i);
    assert_int_equal(note->left_out, 0);
    assert_int_equal(note->code, RW_OK);
    found += note->line == line && word_in(note->text, words);
  }
  if (found != 1)
    print_error("no remark on line %ld with \"%s\"\n", line, words);
  assert_int_equal(found, 1);
  rw_log_destroy(l);
}

static size_t remarks(const rw_log *l, const char *words)
{
  size_t n = 0;
  for (size_t i = 0; i < rw_log_notes(l); i++)
    n += word_in(rw_log_note_at(l, i)->text, words) ? 1 : 0;
  return n;
}

static void batches_and_events(void **state)
{
  (void)state;
  rw_log *l = log_of("\xEF\xBB\xBF# school\r\n\r\n" HEAD BATCH_4
                     "event,4,,,,,,,,,tacky,2026-10-03 15:00,2026-10-03T16:00:30,Ann\r\n"
                     "event,4,,,,,,,,,hard,2026-10-03 16:30,2026-10-04 08:30,Ann\r"
                     "event,4,,,,,,,cup,,gelled,,2026-10-03 15:10,Bob\n"
                     "event,4,,,,,,,,,sands,2026-10-05 09:00,,\n"
                     "event,4,,,,,,,,,FIRM,2026-10-03 18:00,2026-10-03 18:00,ann\n"
                     ",,,,,,,,,,,,,\n# end\n",
                     0);
  assert_int_equal(rw_log_batches(l), 1);
  const rw_log_batch *b = rw_log_batch_at(l, 0);
  assert_string_equal(b->name, "4");
  assert_string_equal(b->place, "bow");
  assert_close(b->mixed, clock_of("2026-10-03 14:05"), 0);
  assert_close(b->on_hull, clock_of("2026-10-03 14:40"), 0);
  assert_close(b->mass, 0.412, 1e-15);
  assert_close(b->resin, 0.286, 1e-15);
  assert_close(b->hardener, 0.126, 1e-15);
  assert_close(b->applied, 0.390, 1e-15);
  assert_int_equal(b->form, RW_LOG_FILM);
  assert_int_equal(b->suspect, 0);
  assert_int_equal(b->line, 4);
  assert_null(rw_log_batch_at(l, 1));

  assert_int_equal(rw_log_events(l), 5);
  static const rw_log_known known[] = {RW_LOG_INTERVAL, RW_LOG_INTERVAL, RW_LOG_LEFT, RW_LOG_RIGHT,
                                       RW_LOG_EXACT};
  for (size_t i = 0; i < 5; i++) {
    assert_int_equal(rw_log_event_at(l, i)->known, known[i]);
    assert_int_equal(rw_log_event_at(l, i)->line, 5 + i);
  }
  assert_null(rw_log_event_at(l, 5));
  const rw_log_event *e = rw_log_event_at(l, 0);
  assert_int_equal(e->found, RW_FOUND_TACKY);
  assert_close(e->not_yet, clock_of("2026-10-03 15:00"), 0);
  assert_close(e->already, clock_of("2026-10-03 16:00:30"), 0);
  assert_int_equal(e->form, RW_LOG_FILM);
  assert_int_equal(rw_log_event_at(l, 2)->form, RW_LOG_CUP);
  assert_true(isnan(rw_log_event_at(l, 2)->not_yet));
  assert_true(isnan(rw_log_event_at(l, 3)->already));
  assert_int_equal(rw_log_event_at(l, 4)->found, RW_FOUND_FIRM);

  assert_int_equal(rw_log_observers(l), 3);
  assert_string_equal(rw_log_observer_at(l, 0), "Ann");
  assert_string_equal(rw_log_observer_at(l, 1), "Bob");
  assert_string_equal(rw_log_observer_at(l, 2), "");
  assert_null(rw_log_observer_at(l, 3));
  assert_int_equal(rw_log_event_at(l, 4)->who, 0);
  assert_int_equal(rw_log_left_out(l), 0);
  assert_null(rw_log_note_at(l, rw_log_notes(l)));

  double from, to;
  size_t at;
  rw_error err;
  assert_ok(rw_log_span(l, 0, &from, &to, &err), &err);
  assert_close(from, b->mixed, 0);
  assert_close(to, clock_of("2026-10-05 09:00"), 0);
  assert_status(rw_log_span(l, 1, &from, &to, &err), RW_ERR_RANGE, &err);
  told(&err, "batch");
  assert_ok(rw_log_find(l, "4", &at, &err), &err);
  assert_int_equal(at, 0);
  assert_status(rw_log_find(l, "40", &at, &err), RW_ERR_NAME, &err);
  told(&err, "did you mean \"4\"");
  rw_log_destroy(l);
}

/* Columns left out, another separator, decimal commas, other units. */
static void columns_may_be_few(void **state)
{
  (void)state;
  rw_log *l = log_of("Row;batch;time;resin [kg];hardener [ozwt]\n"
                     "batch;\"keel; port\";2026-10-03 14:05;0,286;4,4\n"
                     "batch;2;2026-10-03 15:05;;\n",
                     0);
  const rw_log_batch *b = rw_log_batch_at(l, 0);
  assert_string_equal(b->name, "keel; port");
  assert_close(b->resin, 0.286, 1e-15);
  /* The international avoirdupois ounce is 28.349523125 g by definition. */
  assert_close(b->hardener, 4.4 * 0.028349523125, 1e-15);
  assert_close(b->mass, b->resin + b->hardener, 0);
  assert_true(isnan(b->on_hull) && isnan(b->applied));
  assert_true(isnan(rw_log_batch_at(l, 1)->mass));
  rw_log_destroy(l);
}

static void rows_are_joined(void **state)
{
  (void)state;
  rw_log *l = log_of(HEAD BATCH_4 "event,4,,,,,,,,,gelled,2026-10-03 15:00,,Ann\n"
                                  "event,4,,,,,,,,,gelled,2026-10-03 15:30,2026-10-03 18:00,Ann\n"
                                  "event,4,,,,,,,,,gelled,,2026-10-03 17:00,ANN\n"
                                  "event,4,,,,,,,,stern,gelled,,2026-10-03 15:20,Ann\n"
                                  "event,4,,,,,,,,,gelled,,2026-10-03 17:30,Bob\n",
                     0);
  assert_int_equal(rw_log_events(l), 3);
  const rw_log_event *e = rw_log_event_at(l, 0);
  assert_close(e->not_yet, clock_of("2026-10-03 15:30"), 0);
  assert_close(e->already, clock_of("2026-10-03 17:00"), 0);
  assert_int_equal(e->known, RW_LOG_INTERVAL);
  assert_int_equal(e->line, 3);
  rw_log_destroy(l);
}

static void impossible_batches(void **state)
{
  (void)state;
  left_out(HEAD "batch,1,2026-10-03 23:50,2026-10-03 00:20,,,,,,,,,,\n", RW_ERR_ORDER, 2,
           "midnight");
  left_out(HEAD "batch,1,2026-10-03 08:00,2026-10-04 08:20,,,,,,,,,,\n", RW_ERR_ORDER, 2, "12 h");
  left_out(HEAD "batch,1,2026-10-03 23:50,,412,280,120,,,,,,,\n", RW_ERR_RANGE, 2, "add up");
  left_out(HEAD "batch,1,2026-10-03 23:50,,412,420.5,,,,,,,,\n", RW_ERR_RANGE, 2, "more resin");
  left_out(HEAD "batch,1,2026-10-03 23:50,,412,,430,,,,,,,\n", RW_ERR_RANGE, 2, "more hardener");
  left_out(HEAD "batch,1,2026-10-03 23:50,,412,,,500,,,,,,\n", RW_ERR_RANGE, 2,
           "more was applied");
  left_out(HEAD "batch,1,2026-10-03 23:50,,,286,126,500,,,,,,\n", RW_ERR_RANGE, 2, "500 g");
  left_out(HEAD "batch,1,2026-10-03 23:50,,-4,,,,,,,,,\n", RW_ERR_RANGE, 2, "unit");
  left_out(HEAD "batch,1,2026-10-03 23:50,,412000,,,,,,,,,\n", RW_ERR_RANGE, 2, "50 kg");
  left_out(HEAD "batch,1,2026-10-03 23:50,,a lot,,,,,,,,,\n", RW_ERR_SYNTAX, 2, "a lot");
  left_out(HEAD "batch,1,2026-10-03 23:50,,,,,,jar,,,,,\n", RW_ERR_NAME, 2, "jar");
  left_out(HEAD "batch,1,,,,,,,,,,,,\n", RW_ERR_SYNTAX, 2, "time");
  left_out(HEAD "batch,,2026-10-03 23:50,,,,,,,,,,,\n", RW_ERR_SYNTAX, 2, "batch");
  left_out(HEAD "batch,1,23:50,,,,,,,,,,,\n", RW_ERR_SYNTAX, 2, "no date");
  left_out(HEAD "batch,1,2026-10-03,,,,,,,,,,,\n", RW_ERR_SYNTAX, 2, "time of day");
  left_out(HEAD "batch,1,2026-10-33 10:00,,,,,,,,,,,\n", RW_ERR_RANGE, 2, "2026-10-33");
  left_out(HEAD BATCH_4 "batch,4,2026-10-04 14:05,,,,,,,,,,,\n", RW_ERR_NAME, 3, "line 2");
  left_out(HEAD BATCH_4 BATCH_4, RW_ERR_SYNTAX, 3, "same as line 2");
}

/* The scale's own steps are let pass. */
static void masses_within_the_scale(void **state)
{
  (void)state;
  rw_log *l = log_of(HEAD "batch,1,2026-10-03 23:50,,100,70,32.9,102.9,,,,,,\n"
                          "batch,2,2026-10-03 23:55,,1000,700,319,1019,,,,,,\n",
                     0);
  assert_int_equal(rw_log_batches(l), 2);
  rw_log_destroy(l);
  left_out(HEAD "batch,1,2026-10-03 23:50,,100,70,33.1,,,,,,,\n", RW_ERR_RANGE, 2, "add up");
  left_out(HEAD "batch,1,2026-10-03 23:50,,1000,700,321,,,,,,,\n", RW_ERR_RANGE, 2, "add up");
}

static void impossible_events(void **state)
{
  (void)state;
#define EVENT "event,4,,,,,,,,,"
  left_out(HEAD BATCH_4 EVENT "gelled,2026-10-03 15:00,2026-10-03 14:50,\n", RW_ERR_ORDER, 3,
           "before it was found not yet");
  left_out(HEAD BATCH_4 EVENT "gelled,,2026-10-03 00:30,\n", RW_ERR_ORDER, 3, "midnight");
  left_out(HEAD BATCH_4 EVENT "gelled,2026-10-03 14:00,2026-10-03 15:00,\n", RW_ERR_ORDER, 3,
           "mixed");
  left_out(HEAD BATCH_4 EVENT "gelled,,2027-12-03 15:00,\n", RW_ERR_ORDER, 3, "400 days");
  left_out(HEAD BATCH_4 EVENT "gelled,,,\n", RW_ERR_SYNTAX, 3, "not_yet");
  left_out(HEAD BATCH_4 EVENT ",,2026-10-03 15:00,\n", RW_ERR_SYNTAX, 3, "found");
  left_out(HEAD BATCH_4 EVENT "geled,,2026-10-03 15:00,\n", RW_ERR_NAME, 3,
           "did you mean \"gelled\"");
  left_out(HEAD BATCH_4 "event,5,,,,,,,,,gelled,,2026-10-03 15:00,\n", RW_ERR_NAME, 3,
           "no batch \"5\"");
  left_out(HEAD BATCH_4 "evnt,4,,,,,,,,,gelled,,2026-10-03 15:00,\n", RW_ERR_NAME, 3,
           "did you mean \"event\"");
  left_out(HEAD BATCH_4 ",4,,,,,,,,,gelled,,2026-10-03 15:00,\n", RW_ERR_SYNTAX, 3, "row");
  left_out(HEAD BATCH_4 EVENT "gelled,,15:00,\n", RW_ERR_SYNTAX, 3, "no date");
}

/* An event may stand above its batch; one of a batch that was left out goes with it. */
static void events_need_their_batch(void **state)
{
  (void)state;
  rw_log *l = log_of(HEAD EVENT "gelled,,2026-10-03 15:00,\n" BATCH_4, 0);
  assert_int_equal(rw_log_events(l), 1);
  rw_log_destroy(l);
  l = log_of(HEAD EVENT "gelled,,2026-10-03 15:00,\nbatch,4,2026-10-03,,,,,,,,,,,\n", 1);
  assert_int_equal(rw_log_batches(l), 0);
  assert_int_equal(rw_log_events(l), 0);
  assert_int_equal(rw_log_left_out(l), 2);
  assert_true(word_in(rw_log_note_at(l, 0)->text, "line 3 was left out"));
  rw_log_destroy(l);
}

static void contradictions(void **state)
{
  (void)state;
  /* Tacky after hard. */
  left_out(HEAD BATCH_4 EVENT "hard,,2026-10-04 08:30,Ann\n" EVENT "tacky,,2026-10-04 09:00,Ann\n",
           RW_ERR_ORDER, 4, "still tacky at 2026-10-04 09:00");
  left_out(HEAD BATCH_4 EVENT "tacky,,2026-10-04 09:00,Ann\n" EVENT "hard,,2026-10-04 08:30,Ann\n",
           RW_ERR_ORDER, 4, "(line 3)");
  left_out(HEAD BATCH_4 EVENT "hard,,2026-10-04 08:30,Ann\n" EVENT "firm,2026-10-04 08:30,,Ann\n",
           RW_ERR_ORDER, 4, "not yet firm");
  left_out(HEAD BATCH_4 EVENT "firm,2026-10-04 08:30,,Ann\n" EVENT "hard,,2026-10-04 08:30,Ann\n",
           RW_ERR_ORDER, 4, "already hard");
  left_out(HEAD BATCH_4 EVENT "gelled,,2026-10-03 15:30,\n" EVENT "gelled,2026-10-03 16:00,,\n",
           RW_ERR_ORDER, 4, "not yet gelled");
  left_out(HEAD BATCH_4 EVENT "gelled,2026-10-03 16:00,,\n" EVENT "gelled,,2026-10-03 15:30,\n",
           RW_ERR_ORDER, 4, "already gelled");
  /* Tacky and firm go together, and what is seen in one look is in order. */
  rw_log *l = log_of(HEAD BATCH_4 EVENT "firm,,2026-10-03 17:00,\n" EVENT
                                        "tacky,,2026-10-03 18:00,\n" EVENT
                                        "hard,2026-10-03 18:00,2026-10-04 08:30,\n" EVENT
                                        "thumbnail_none,2026-10-04 08:30,2026-10-05 08:30,\n",
                     0);
  assert_int_equal(rw_log_events(l), 4);
  rw_log_destroy(l);
  /* Other observers, other spots, and the cup, may differ. */
  l = log_of(HEAD BATCH_4 EVENT "hard,,2026-10-04 08:30,Ann\n" EVENT
                                "tacky,,2026-10-04 09:00,Bob\n"
                                "event,4,,,,,,,cup,,gelled,,2026-10-03 15:00,Ann\n" EVENT
                                "gelled,2026-10-03 16:00,,Ann\n"
                                "event,4,,,,,,,,keel,gelled,,2026-10-03 15:30,Ann\n",
             0);
  assert_int_equal(rw_log_events(l), 5);
  assert_int_equal(remarks(l, "observers disagree"), 1);
  rw_log_destroy(l);
}

static void readings(void **state)
{
  (void)state;
  rw_log *l = log_of(READING "reading,2026-10-04 09:00,12,10,70,,\n"
                             "reading,2026-10-03 15:00,19,,,,\n"
                             "reading,2026-10-03 21:00,,14,,,\nreading,2026-10-05,,,,5,14\n",
                     0);
  assert_int_equal(rw_log_readings(l), 4);
  const rw_log_reading *a = rw_log_reading_at(l, 2);
  assert_close(rw_log_reading_at(l, 0)->air, 19 + ZERO, 1e-12);
  assert_true(isnan(rw_log_reading_at(l, 0)->humidity));
  assert_close(a->humidity, 0.7, 1e-15);
  assert_close(a->hull, 10 + ZERO, 1e-12);
  assert_int_equal(a->line, 2);
  assert_close(rw_log_reading_at(l, 3)->low, 5 + ZERO, 1e-12);
  assert_close(rw_log_reading_at(l, 3)->time, clock_of("2026-10-05"), 0);
  assert_null(rw_log_reading_at(l, 4));
  rw_log_destroy(l);

  left_out(READING "reading,2026-10-03 15:00,66,,,,\n", RW_ERR_RANGE, 2, "degF");
  left_out(READING "reading,2026-10-03 15:00,,46,,,\n", RW_ERR_RANGE, 2, "degF");
  left_out(READING "reading,2026-10-03,,,,45,66\n", RW_ERR_RANGE, 2, "degF");
  left_out(READING "reading,2026-10-03 15:00,-300,,,,\n", RW_ERR_RANGE, 2, "thermometer");
  left_out(READING "reading,2026-10-03 15:00,19,,170,,\n", RW_ERR_RANGE, 2, "170 %");
  left_out(READING "reading,2026-10-03 15:00,,,70,,\n", RW_ERR_SYNTAX, 2, "humidity");
  left_out(READING "reading,2026-10-03 15:00,,,,,\n", RW_ERR_SYNTAX, 2, "no temperature");
  left_out(READING "reading,,19,,,,\n", RW_ERR_SYNTAX, 2, "time");
  left_out(READING "reading,2026-10-03,,,,5,\n", RW_ERR_SYNTAX, 2, "belong together");
  left_out(READING "reading,2026-10-03,,,,15,5\n", RW_ERR_RANGE, 2, "above its high");
  left_out(READING "reading,2026-10-03 12:00,,,,5,15\n", RW_ERR_SYNTAX, 2, "whole day");
  left_out(READING "reading,2026-10-03,7,,,5,15\n", RW_ERR_SYNTAX, 2, "row of its own");
  left_out(READING "reading,2026-10-03,7,,,,\n", RW_ERR_SYNTAX, 2, "time of day");
  left_out(READING "reading,2026-10-03 15:00,19,,,,\nreading,2026-10-03 15:00,18,,,,\n",
           RW_ERR_ORDER, 3, "line 2");
  left_out(READING "reading,2026-10-03,,,,5,14\nreading,2026-10-03,,,,5,15\n", RW_ERR_ORDER, 3,
           "line 2");
  left_out(READING "reading,2026-10-03+02:00,,,,5,14\nreading,2026-10-03+01:00,,,,5,15\n",
           RW_ERR_ORDER, 3, "within 12 h");
}

static void fahrenheit_column(void **state)
{
  (void)state;
  static const char head[] = "row,time,air [degF]\nreading,2026-10-03 15:00,19\n";
  left_out(head, RW_ERR_RANGE, 2, "looks like degC");
  rw_log *l = log_of("row,time,air [degF]\nreading,2026-10-03 15:00,19\n"
                     "reading,2026-10-03 19:00,59\n",
                     0);
  assert_close(rw_log_reading_at(l, 1)->air, 15 + ZERO, 1e-9);
  rw_log_destroy(l);
  rw_log_options o = {.as_read = 1};
  rw_error err;
  l = NULL;
  assert_ok(rw_log_parse(head, strlen(head), NULL, &o, &l, &err), &err);
  assert_int_equal(rw_log_readings(l), 1);
  rw_log_destroy(l);
  static const char hot[] = READING "reading,2026-10-03 15:00,60,,,,\n";
  l = NULL;
  assert_ok(rw_log_parse(hot, strlen(hot), NULL, &o, &l, &err), &err);
  assert_close(rw_log_reading_at(l, 0)->air, 60 + ZERO, 1e-9);
  rw_log_destroy(l);
}

/* With offsets a change of the clock needs no care. */
static void offsets(void **state)
{
  (void)state;
  rw_log *l = log_of("row,batch,time,found,not_yet,already\n"
                     "batch,1,2026-10-25 01:30+02:00,,,\n"
                     "event,1,,gelled,2026-10-25 02:30+02:00,2026-10-25 02:30+01:00\n",
                     0);
  assert_int_equal(rw_log_universal(l), 1);
  assert_close(rw_log_batch_at(l, 0)->mixed, clock_of("2026-10-24 23:30"), 0);
  const rw_log_event *e = rw_log_event_at(l, 0);
  assert_close(e->already - e->not_yet, HOUR, 0);
  rw_log_destroy(l);
#define CLOCKED "row,batch,time,found,not_yet,already,set_to\n"
  left_out(CLOCKED "batch,1,2026-10-25 01:30+02:00,,,,\nevent,1,,gelled,2026-10-25 02:30,,\n",
           RW_ERR_SYNTAX, 3, "no offset");
  left_out(CLOCKED "batch,1,2026-10-25 01:30,,,,\nevent,1,,gelled,,2026-10-25 04:30Z,\n",
           RW_ERR_SYNTAX, 3, "has an offset");
  left_out(CLOCKED "batch,1,2026-10-25 01:30Z,,,,\n"
                   "clock,,2026-10-25 03:00Z,,,,2026-10-25 02:00Z\n",
           RW_ERR_SYNTAX, 3, "not needed");
}

/* Without them a row says when the clock was changed. */
static void clock_changes(void **state)
{
  (void)state;
#define BACK "clock,,2026-10-25 03:00,,,,2026-10-25 02:00\n"
#define FORTH "clock,,2027-03-28 02:00,,,,2027-03-28 03:00\n"
  rw_log *l = log_of(CLOCKED "batch,1,2026-10-25 01:30,,,,\n" BACK FORTH
                             "event,1,,gelled,2026-10-25 01:59,2026-10-25 03:00,\n"
                             "event,1,,hard,2027-03-28 01:30,2027-03-28 03:30,\n",
                     0);
  assert_int_equal(rw_log_universal(l), 0);
  const rw_log_event *e = rw_log_event_at(l, 0);
  assert_close(e->already - e->not_yet, 61 * 60 + HOUR, 0);
  e = rw_log_event_at(l, 1);
  assert_close(e->already - e->not_yet, HOUR, 0);
  assert_close(e->already, clock_of("2027-03-28 03:30"), 0);
  rw_log_destroy(l);
  left_out(CLOCKED "batch,1,2026-10-25 01:30,,,,\n" BACK "event,1,,gelled,2026-10-25 02:30,,\n",
           RW_ERR_RANGE, 4, "came twice");
  left_out(CLOCKED "batch,1,2026-10-25 01:30,,,,\n" FORTH "event,1,,hard,2027-03-28 02:30,,\n",
           RW_ERR_RANGE, 4, "never came");
  left_out(CLOCKED "clock,,2026-10-25 03:00,,,,2026-10-25 08:00\n", RW_ERR_RANGE, 2, "3 h");
  left_out(CLOCKED "clock,,2026-10-25 03:00,,,,\n", RW_ERR_SYNTAX, 2, "set_to");
  left_out(CLOCKED BACK "clock,,2026-10-25 04:00,,,,2026-10-25 03:00\n", RW_ERR_ORDER, 3,
           "two days");
}

static void refused_as_a_whole(const char *text, rw_status code, const char *words)
{
  rw_log *l = NULL;
  rw_error err;
  for (int keep = 0; keep < 2; keep++) {
    rw_log_options o = {.keep_good = keep};
    assert_status(rw_log_parse(text, strlen(text), "book.csv", &o, &l, &err), code, &err);
    told(&err, words);
    assert_non_null(strstr(err.message, "book.csv"));
    assert_null(l);
  }
}

static void bad_headers(void **state)
{
  (void)state;
  refused_as_a_whole("", RW_ERR_SYNTAX, "empty");
  refused_as_a_whole("# nothing yet\n\n", RW_ERR_SYNTAX, "empty");
  refused_as_a_whole("batch,time\n", RW_ERR_NAME, "\"row\"");
  refused_as_a_whole("row,mass\n", RW_ERR_UNIT, "mass");
  refused_as_a_whole("row,air [g]\n", RW_ERR_UNIT, "air");
  refused_as_a_whole("row,air [degC],air [degF]\n", RW_ERR_NAME, "two columns");
  refused_as_a_whole("row,,time\n", RW_ERR_SYNTAX, "no name");
  rw_log *l = NULL;
  rw_error err;
  static const char typo[] = "row,batch,tim\nbatch,1,2026-10-03 15:00\n";
  assert_status(rw_log_parse(typo, strlen(typo), NULL, NULL, &l, &err), RW_ERR_NAME, &err);
  told(&err, "did you mean \"time\"");
  assert_null(l);
  l = log_of("row,batch,time,weather\nbatch,1,2026-10-03 15:00,rain\n", 1);
  assert_int_equal(rw_log_batches(l), 1);
  assert_int_equal(rw_log_left_out(l), 0);
  assert_int_equal(remarks(l, "weather"), 1);
  rw_log_destroy(l);
  rw_log_options o = {.ratio = 44};
  assert_status(rw_log_parse(typo, strlen(typo), NULL, &o, &l, &err), RW_ERR_RANGE, &err);
  told(&err, "ratio");
  assert_status(rw_log_parse(NULL, 3, NULL, NULL, &l, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_log_parse(typo, 3, NULL, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_log_read(NULL, NULL, &l, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_log_read("no such log.csv", NULL, &l, &err), RW_ERR_FILE, &err);
  told(&err, "no such log.csv");
}

/* A row that does not fit the header spoils no other. */
static void ragged_rows(void **state)
{
  (void)state;
  left_out(HEAD BATCH_4 "event,4,,\n", RW_ERR_SYNTAX, 3, "4 cells, the header has 14");
  left_out(HEAD "batch,\"5,2026-10-03 14:05,,,,,,,,,,,\n" BATCH_4, RW_ERR_SYNTAX, 2, "quote");
  left_out(HEAD "batch,\"5\"a,2026-10-03 14:05,,,,,,,,,,,\n" BATCH_4, RW_ERR_SYNTAX, 2, "quote");
  left_out(HEAD BATCH_4 "event,4,,,,,,,,,gelled,,2026-10-", RW_ERR_SYNTAX, 3, "cut off");
  remarked(HEAD BATCH_4 "event,4,,,,,,,,,gelled,,2026-10-03 15:00,", NULL, 3, "no line end");
  static const char zero[] = HEAD "batch,\0,2026-10-03 14:05,,,,,,,,,,,\n" BATCH_4;
  rw_log_options o = {.keep_good = 1};
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(zero, sizeof zero - 1, NULL, &o, &l, &err), &err);
  assert_int_equal(rw_log_batches(l), 1);
  assert_int_equal(rw_log_note_at(l, 0)->line, 2);
  rw_log_destroy(l);
}

/* A thousand rows pasted with decimal commas. */
static void decimal_commas(void **state)
{
  (void)state;
  enum { ROWS = 1000, WIDTH = 40 };
  char *text = malloc(ROWS * WIDTH + 200);
  assert_non_null(text);
  size_t n = (size_t)sprintf(text, "row,time,air [degC]\nreading,2026-10-01 00:00,18.5\n");
  for (int i = 0; i < ROWS; i++)
    n += (size_t)sprintf(text + n, "reading,2026-10-%02d %02d:%02d,18,5\n", 2 + i / 144,
                         i / 6 % 24, i % 6 * 10);
  rw_log *l = NULL;
  rw_error err;
  assert_status(rw_log_parse(text, n, NULL, NULL, &l, &err), RW_ERR_SYNTAX, &err);
  told(&err, "999 more such rows");
  told(&err, "decimal commas need ;");
  assert_int_equal(err.line, 3);
  rw_log_options o = {.keep_good = 1};
  assert_ok(rw_log_parse(text, n, NULL, &o, &l, &err), &err);
  assert_int_equal(rw_log_left_out(l), ROWS);
  assert_int_equal(rw_log_readings(l), 1);
  assert_int_equal(rw_log_note_at(l, ROWS - 1)->line, ROWS + 2);
  rw_log_destroy(l);
  for (size_t i = 0, commas = 0; i < n; i++) {
    commas = text[i] == '\n' ? 0 : commas + (text[i] == ',');
    if (text[i] == ',' && commas < 3)
      text[i] = ';';
  }
  assert_ok(rw_log_parse(text, n, NULL, NULL, &l, &err), &err);
  assert_int_equal(rw_log_readings(l), ROWS + 1);
  assert_close(rw_log_reading_at(l, ROWS)->air, 18.5 + ZERO, 1e-12);
  rw_log_destroy(l);
  free(text);
}

static void remarks_refuse_nothing(void **state)
{
  (void)state;
  remarked("row,batch,time\n", NULL, 0, "no row yet");
  remarked(HEAD BATCH_4 EVENT "gelled,,2026-10-03 15:00,Ann\n" EVENT
                              "gelled,,2026-10-03 15:00,Bob\n",
           NULL, 0, "one kind of event only: gelled");
  remarked(HEAD BATCH_4 EVENT "gelled,,2026-10-03 15:00,Ann\n" EVENT
                              "hard,,2026-10-04 15:00,Ann\n" EVENT "hard,,2026-10-04 15:00,Bob\n",
           NULL, 5, "observer \"Bob\" has one note only");
  remarked(HEAD "batch,4,2026-10-03 14:05,,,,,,,,gelled,,,\n", NULL, 2, "\"found\" is not used");
  remarked(HEAD "batch,4,2026-10-03 14:05,,,126,286,,,,,,,\n", NULL, 2, "no usual mixing ratio");
  rw_log_options o = {.ratio = 0.5};
  remarked(HEAD BATCH_4, &o, 2, "the label says 100:50");
  o.ratio = 0.45;
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(HEAD BATCH_4, strlen(HEAD BATCH_4), NULL, &o, &l, &err), &err);
  assert_int_equal(rw_log_notes(l), 0);
  rw_log_destroy(l);
  l = log_of(HEAD BATCH_4 "batch,5,2026-10-03 15:05,,,286,100,,,,,,,\n"
                          "batch,6,2026-10-03 16:05,,,286,125,,,,,,,\n",
             0);
  assert_int_equal(remarks(l, "most batches have 100:43.7"), 1);
  assert_int_equal(rw_log_batch_at(l, 0)->suspect, 0);
  assert_int_equal(rw_log_batch_at(l, 1)->suspect, 1);
  rw_log_destroy(l);
  remarked(READING "reading,2026-10-03 06:00,17,,,,\nreading,2026-10-03 10:00,19,,,,\n"
                   "reading,2026-10-03 14:00,44,,,,\nreading,2026-10-03 18:00,18,,,,\n",
           NULL, 4, "44 degC stands far above");
}

#define WARM                                                                                      \
  "row,batch,time,found,not_yet,already,air [degC],humidity [%],low [degC],high [degC]\n"
#define MIXED WARM "batch,1,2026-10-03 14:00,,,,,,,\nevent,1,,hard,,2026-10-04 09:00,,,,\n"

static void hours_without_temperature(void **state)
{
  (void)state;
  remarked(MIXED, NULL, 2,
           "no temperature at all, it needs one from 2026-10-03 14:00 to 2026-10-04 09:00");
  remarked(MIXED "reading,,2026-10-03 15:00,,,,19,,,\n", NULL, 2,
           "no temperature from 2026-10-03 21:00 to 2026-10-04 09:00");
  rw_log *l = log_of(MIXED "reading,,2026-10-03,,,,,,5,14\nreading,,2026-10-04,,,,,,6,15\n", 0);
  assert_int_equal(remarks(l, "no temperature"), 0);
  rw_log_destroy(l);

  l = log_of(MIXED "reading,,2026-10-03 13:00,,,,19,,,\nreading,,2026-10-03 20:00,,,,12,,,\n"
                   "reading,,2026-10-04 09:30,,,,10,,,\n",
             0);
  double from, to;
  rw_log_gap gap[4];
  size_t n;
  rw_error err;
  assert_ok(rw_log_span(l, 0, &from, &to, &err), &err);
  assert_ok(rw_log_gaps(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, gap, 4, &n, &err), &err);
  assert_int_equal(n, 1);
  assert_close(gap[0].from, clock_of("2026-10-03 20:00"), 0);
  assert_close(gap[0].to, to, 0);
  assert_ok(rw_log_gaps(l, RW_LOG_AIR, from, to, 14 * HOUR, gap, 4, &n, &err), &err);
  assert_int_equal(n, 0);
  /* Before the first, between the two, and after the last; one fits. */
  assert_ok(rw_log_gaps(l, RW_LOG_AIR, from - 48 * HOUR, to + 48 * HOUR, RW_LOG_BRIDGE, gap, 1, &n,
                        &err),
            &err);
  assert_int_equal(n, 3);
  assert_close(gap[0].from, from - 48 * HOUR, 0);
  assert_close(gap[0].to, clock_of("2026-10-03 07:00"), 0);
  assert_ok(rw_log_gaps(l, RW_LOG_HULL, from, to, RW_LOG_BRIDGE, gap, 4, &n, &err), &err);
  assert_int_equal(n, 1);
  assert_close(gap[0].from, from, 0);
  assert_close(gap[0].to, to, 0);
  assert_ok(rw_log_gaps(l, RW_LOG_HULL, from, from, RW_LOG_BRIDGE, NULL, 0, &n, &err), &err);
  assert_int_equal(n, 1);
  assert_status(rw_log_gaps(l, RW_LOG_AIR, to, from, RW_LOG_BRIDGE, gap, 4, &n, &err),
                RW_ERR_RANGE, &err);
  assert_status(rw_log_gaps(l, RW_LOG_AIR, from, to, 5, gap, 4, &n, &err), RW_ERR_RANGE, &err);

  rw_history *h = NULL;
  assert_status(rw_log_history(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, &h, &err), RW_ERR_COVERAGE,
                &err);
  told(&err, "from 2026-10-03 20:00 to 2026-10-04 09:00");
  assert_status(rw_log_history(l, RW_LOG_HULL, from, to, RW_LOG_BRIDGE, &h, &err), RW_ERR_COVERAGE,
                &err);
  told(&err, "lag");
  assert_status(rw_log_history(l, RW_LOG_AIR, from, from, RW_LOG_BRIDGE, &h, &err), RW_ERR_RANGE,
                &err);
  assert_null(h);
  rw_log_destroy(l);
}

static double celsius(const rw_history *h, const char *time)
{
  double T = NAN;
  rw_error err;
  assert_ok(rw_history_temperature(h, clock_of(time), &T, &err), &err);
  return T - ZERO;
}

static void histories(void **state)
{
  (void)state;
  rw_log *l = log_of(WARM "reading,,2026-10-03 14:00,,,,19,60,,\n"
                          "reading,,2026-10-03 20:00,,,,13,70,,\n"
                          "reading,,2026-10-04,,,,,,5,15\nreading,,2026-10-05,,,,,,7,17\n"
                          "reading,,2026-10-04 14:00,,,,16,80,,\n",
                     0);
  rw_history *h = NULL;
  rw_error err;
  double from = clock_of("2026-10-03 10:00"), to = clock_of("2026-10-05 18:00"), begin, end;
  assert_ok(rw_log_history(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, &h, &err), &err);
  rw_history_span(h, &begin, &end);
  assert_close(begin, from, 0);
  assert_close(end, to, 0);
  assert_close(celsius(h, "2026-10-03 10:00"), 19, 1e-9);
  assert_close(celsius(h, "2026-10-03 17:00"), 16, 1e-9);
  assert_close(celsius(h, "2026-10-04 05:30"), 5, 1e-9);
  /* The reading at 14:00 takes the place of the high an hour later. */
  assert_close(celsius(h, "2026-10-04 14:00"), 16, 1e-9);
  assert_true(celsius(h, "2026-10-04 15:00") < 16);
  /* The straight line from there ends three hours later, at the next point of the days. */
  assert_true(celsius(h, "2026-10-04 15:00") > 15.4);
  assert_close(celsius(h, "2026-10-05 05:30"), 7, 1e-9);
  assert_close(celsius(h, "2026-10-05 15:00"), 17, 1e-9);
  assert_close(celsius(h, "2026-10-05 18:00"), 17, 1e-9);
  double humidity;
  assert_ok(rw_history_humidity(h, clock_of("2026-10-03 20:00"), &humidity, &err), &err);
  assert_close(humidity, 0.7, 1e-12);
  rw_history_destroy(h);
  rw_log_destroy(l);

  /* Days alone are as the room history makes them; days apart are not joined. */
  l = log_of(WARM "reading,,2026-10-03,,,,,,5,15\nreading,,2026-10-04,,,,,,7,17\n"
                  "reading,,2026-10-06,,,,,,7,17\n",
             0);
  rw_day day[] = {{clock_of("2026-10-03"), 5 + ZERO, 15 + ZERO},
                  {clock_of("2026-10-04"), 7 + ZERO, 17 + ZERO}};
  rw_history *wanted = NULL;
  assert_ok(rw_history_from_days(day, 2, &wanted, &err), &err);
  rw_history_span(wanted, &begin, &end);
  h = NULL;
  assert_ok(rw_log_history(l, RW_LOG_AIR, begin, end, RW_LOG_BRIDGE, &h, &err), &err);
  for (double t = begin; t <= end; t += 1000) {
    double a, b;
    assert_ok(rw_history_temperature(wanted, t, &a, &err), &err);
    assert_ok(rw_history_temperature(h, t, &b, &err), &err);
    assert_close(b, a, 1e-9);
  }
  rw_history_destroy(wanted);
  rw_history_destroy(h);
  size_t n;
  rw_log_gap gap;
  assert_ok(rw_log_gaps(l, RW_LOG_AIR, begin, clock_of("2026-10-06 06:00"), RW_LOG_BRIDGE, &gap, 1,
                        &n, &err),
            &err);
  assert_int_equal(n, 1);
  assert_close(gap.from, clock_of("2026-10-04 15:00"), 0);
  assert_close(gap.to, clock_of("2026-10-06 05:30"), 0);
  rw_log_destroy(l);
}

static void words(void **state)
{
  (void)state;
  for (int i = 0; i < RW_FOUND_WORDS; i++) {
    assert_non_null(rw_log_found_key((rw_log_found)i));
    assert_non_null(rw_log_found_text((rw_log_found)i));
    if (i > 0)
      assert_true(rw_log_found_stage((rw_log_found)i) >=
                  rw_log_found_stage((rw_log_found)(i - 1)));
  }
  assert_string_equal(rw_log_found_key(RW_FOUND_CUTS_CLEAN), "cuts_clean");
  assert_null(rw_log_found_key(RW_FOUND_WORDS));
  assert_null(rw_log_found_text(RW_FOUND_WORDS));
  assert_int_equal(rw_log_found_stage(RW_FOUND_WORDS), 0);
}

/* --- appending --- */

/* Stands in for the system's own: counts, and fails where it is told to. */
static int flushed, flush_fails;

int fsync(int file)
{
  (void)file;
  flushed++;
  errno = EIO;
  return flush_fails ? -1 : 0;
}

static const char book[] = "log_book.csv";

static void start_with(const char *text)
{
  FILE *f = fopen(book, "wb");
  assert_non_null(f);
  assert_true(fputs(text, f) >= 0);
  assert_int_equal(fclose(f), 0);
}

static char *contents(void)
{
  char *bytes = NULL;
  size_t n;
  rw_error err;
  assert_ok(rw_text_slurp(book, 1 << 24, &bytes, &n, &err), &err);
  return bytes;
}

static rw_log_batch batch_named(const char *name)
{
  return (rw_log_batch){.name = name,
                        .mixed = clock_of("2026-10-03 14:05"),
                        .on_hull = NAN,
                        .mass = 0.412,
                        .resin = NAN,
                        .hardener = NAN,
                        .applied = NAN,
                        .place = ""};
}

static const rw_log_reading NO_READING = {NAN, NAN, NAN, NAN, NAN, NAN, 0};

static void a_new_file(void **state)
{
  (void)state;
  remove(book);
  rw_error err;
  rw_log_batch b = batch_named("#7, \"keel\"");
  assert_ok(rw_log_add_batch(book, &b, 0, &err), &err);
  rw_log_event e = {.found = RW_FOUND_HARD,
                    .not_yet = NAN,
                    .already = clock_of("2026-10-04 08:30:20"),
                    .place = "",
                    .observer = "Ann"};
  assert_ok(rw_log_add_event(book, b.name, &e, 0, &err), &err);
  rw_log_reading day = NO_READING;
  day.time = clock_of("2026-10-04");
  day.low = 5 + ZERO;
  day.high = 14.5 + ZERO;
  assert_ok(rw_log_add_reading(book, &day, 0, &err), &err);
  char *text = contents();
  assert_string_equal(
      text, "row,batch,time,on_hull,mass [g],resin [g],hardener [g],applied [g],form,place,found,"
            "not_yet,already,observer,air [degC],hull [degC],humidity [%],low [degC],high [degC],"
            "set_to,note\n"
            "batch,\"#7, \"\"keel\"\"\",2026-10-03 14:05,,412,,,,film,,,,,,,,,,,,\n"
            "event,\"#7, \"\"keel\"\"\",,,,,,,film,,hard,,2026-10-04 08:30:20,Ann,,,,,,,\n"
            "reading,,2026-10-04,,,,,,,,,,,,,,,5,14.5,,\n");
  free(text);
  rw_log *l = NULL;
  assert_ok(rw_log_read(book, NULL, &l, &err), &err);
  assert_string_equal(rw_log_batch_at(l, 0)->name, "#7, \"keel\"");
  assert_close(rw_log_event_at(l, 0)->already, e.already, 0);
  rw_log_destroy(l);
  assert_int_equal(remove(book), 0);
}

/* Flushed before it says that it is done; what may not have reached the disk is taken away. */
static void flushed_to_the_disk(void **state)
{
  (void)state;
  remove(book);
  rw_error err;
  rw_log_batch b = batch_named("1");
  flushed = 0;
  assert_ok(rw_log_add_batch(book, &b, 0, &err), &err);
  assert_int_equal(flushed, 2); /* a new file, and its folder */
  b.name = "2";
  assert_ok(rw_log_add_batch(book, &b, 0, &err), &err);
  assert_int_equal(flushed, 3);
  char *before = contents();
  b.name = "3";
  flush_fails = 1;
  rw_status status = rw_log_add_batch(book, &b, 0, &err);
  flush_fails = 0;
  assert_status(status, RW_ERR_FILE, &err);
  char *after = contents();
  assert_string_equal(after, before);
  free(before);
  free(after);
  remove(book);
}

/* Its order of columns, units, separator, line ends and comments are kept. */
static void an_old_file(void **state)
{
  (void)state;
  static const char old[] = "# ours\r\nmass [kg];time;weather;row;batch;form\r\n"
                            "0,5;2026-10-03 10:00;rain;batch;1;";
  start_with(old);
  rw_error err;
  rw_log_batch b = batch_named("2");
  assert_ok(rw_log_add_batch(book, &b, 0, &err), &err);
  char *text = contents();
  assert_true(strncmp(text, old, strlen(old)) == 0);
  assert_string_equal(text + strlen(old), "\r\n0.412;2026-10-03 14:05;;batch;2;film\r\n");
  free(text);
  b.name = "3";
  b.applied = 0.4;
  assert_status(rw_log_add_batch(book, &b, 0, &err), RW_ERR_NAME, &err);
  told(&err, "applied");
  b = batch_named("3");
  assert_status(rw_log_add_batch(book, &b, 1, &err), RW_ERR_ARGUMENT, &err);
  told(&err, "offset");
  b.name = "3\n4";
  assert_status(rw_log_add_batch(book, &b, 0, &err), RW_ERR_ARGUMENT, &err);
  told(&err, "one line");
  remove(book);
}

static void unchanged_after(rw_status status, rw_status wanted, const rw_error *err,
                            const char *before)
{
  assert_status(status, wanted, err);
  char *text = contents();
  assert_string_equal(text, before);
  free(text);
}

static void impossible_rows_are_not_written(void **state)
{
  (void)state;
  static const char old[] = HEAD BATCH_4 EVENT "hard,,2026-10-04 08:30,Ann\nbad row\n";
  start_with(old);
  rw_error err;
  rw_log_batch b = batch_named("4");
  unchanged_after(rw_log_add_batch(book, &b, 0, &err), RW_ERR_NAME, &err, old);
  told(&err, "was not written");
  assert_string_equal(err.function, "rw_log_add_batch");
  b = batch_named("5");
  b.applied = 0.6;
  unchanged_after(rw_log_add_batch(book, &b, 0, &err), RW_ERR_RANGE, &err, old);
  rw_log_event e = {.found = RW_FOUND_TACKY,
                    .not_yet = NAN,
                    .already = clock_of("2026-10-04 09:00"),
                    .place = "",
                    .observer = "Ann"};
  unchanged_after(rw_log_add_event(book, "4", &e, 0, &err), RW_ERR_ORDER, &err, old);
  told(&err, "still tacky");
  unchanged_after(rw_log_add_event(book, "9", &e, 0, &err), RW_ERR_NAME, &err, old);
  rw_log_reading hot = NO_READING;
  hot.time = e.already;
  hot.air = 66 + ZERO;
  unchanged_after(rw_log_add_reading(book, &hot, 0, &err), RW_ERR_NAME, &err, old);
  start_with(READING);
  unchanged_after(rw_log_add_reading(book, &hot, 0, &err), RW_ERR_RANGE, &err, READING);
  told(&err, "degF");
  start_with("row,tame\n");
  unchanged_after(rw_log_add_reading(book, &hot, 0, &err), RW_ERR_NAME, &err, "row,tame\n");
  assert_status(rw_log_add_batch(NULL, &b, 0, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_log_add_event(book, NULL, &e, 0, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_log_add_reading(book, NULL, 0, &err), RW_ERR_ARGUMENT, &err);
  b = batch_named("1");
  assert_status(rw_log_add_batch("no folder/of this/name.csv", &b, 0, &err), RW_ERR_FILE, &err);
  told(&err, "folder");
  remove(book);
}

/* Times go back onto the clock on the wall. */
static void after_a_clock_change(void **state)
{
  (void)state;
  start_with(CLOCKED "batch,1,2026-10-24 14:00,,,,\n" BACK);
  rw_error err;
  rw_log_event e = {.found = RW_FOUND_HARD,
                    .not_yet = clock_of("2026-10-25 01:00"),
                    .already = clock_of("2026-10-25 09:00"),
                    .place = "",
                    .observer = ""};
  assert_ok(rw_log_add_event(book, "1", &e, 0, &err), &err);
  char *text = contents();
  assert_non_null(strstr(text, "event,1,,hard,2026-10-25 01:00,2026-10-25 08:00,\n"));
  free(text);
  rw_log *l = NULL;
  assert_ok(rw_log_read(book, NULL, &l, &err), &err);
  assert_close(rw_log_event_at(l, 0)->already, e.already, 0);
  rw_log_destroy(l);
  e.found = RW_FOUND_SANDS;
  e.not_yet = NAN;
  e.already = clock_of("2026-10-25 03:30");
  assert_status(rw_log_add_event(book, "1", &e, 0, &err), RW_ERR_RANGE, &err);
  told(&err, "came twice");
  remove(book);
}

/* A row cut off by an interruption stays alone. */
static void after_an_interruption(void **state)
{
  (void)state;
  start_with(HEAD BATCH_4 "batch,\"5,2026-10-03 1");
  rw_error err;
  rw_log_batch b = batch_named("6");
  assert_ok(rw_log_add_batch(book, &b, 0, &err), &err);
  rw_log_options o = {.keep_good = 1};
  rw_log *l = NULL;
  assert_ok(rw_log_read(book, &o, &l, &err), &err);
  assert_int_equal(rw_log_batches(l), 2);
  assert_int_equal(rw_log_left_out(l), 1);
  assert_string_equal(rw_log_batch_at(l, 1)->name, "6");
  rw_log_destroy(l);
  remove(book);
}

/* Writes until it is killed and tells through the pipe what was said to be done. */
static void write_on(int told)
{
  for (int i = 0; i < 100000; i++) {
    char name[16];
    snprintf(name, sizeof name, "%d", i);
    rw_log_batch b = batch_named(name);
    if (rw_log_add_batch(book, &b, 0, NULL) != RW_OK || write(told, "x", 1) != 1)
      _exit(1);
  }
  _exit(0);
}

/* Killed at any moment, no row that was said to be written is lost. */
static void killed_while_writing(void **state)
{
  (void)state;
  for (int round = 0; round < 6; round++) {
    remove(book);
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
      write_on(ends[1]);
    close(ends[1]);
    size_t done = 0;
    char byte;
    while (done < (size_t)(3 + 4 * round) && read(ends[0], &byte, 1) == 1)
      done++;
    struct timespec while_writing = {0, 200000 * round};
    nanosleep(&while_writing, NULL);
    kill(child, SIGKILL);
    assert_int_equal(waitpid(child, NULL, 0), child);
    while (read(ends[0], &byte, 1) == 1)
      done++;
    close(ends[0]);
    assert_true(done >= (size_t)(3 + 4 * round));
    rw_log_options o = {.keep_good = 1};
    rw_log *l = NULL;
    rw_error err;
    assert_ok(rw_log_read(book, &o, &l, &err), &err);
    assert_in_range(rw_log_batches(l), done, done + 1);
    for (size_t i = 0; i < done; i++) {
      char name[24];
      snprintf(name, sizeof name, "%zu", i);
      assert_string_equal(rw_log_batch_at(l, i)->name, name);
    }
    rw_log_destroy(l);
  }
  remove(book);
}

/* Adds a row where the file may grow by 20 bytes only. */
static void add_on_a_full_disk(off_t size)
{
  struct rlimit limit = {(rlim_t)size + 20, (rlim_t)size + 20};
  signal(SIGXFSZ, SIG_IGN);
  if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
    _exit(2);
  rw_log_batch b = batch_named("9");
  rw_error err;
  rw_status status = rw_log_add_batch(book, &b, 0, &err);
  _exit(status == RW_ERR_FILE && word_in(err.message, "full") ? 0 : 1);
}

/* What was written of a row for which there is no room is taken away again. */
static void a_full_disk(void **state)
{
  (void)state;
  static const char old[] = HEAD BATCH_4;
  start_with(old);
  pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0)
    add_on_a_full_disk((off_t)strlen(old));
  int end;
  assert_int_equal(waitpid(child, &end, 0), child);
  assert_true(WIFEXITED(end));
  assert_int_equal(WEXITSTATUS(end), 0);
  char *text = contents();
  assert_string_equal(text, old);
  free(text);
  remove(book);
}

/* Read while another process appends: whole rows only, never fewer than before. */
static void read_while_it_grows(void **state)
{
  (void)state;
  start_with(HEAD "batch,first,2026-10-03 14:05,,,,,,,,,,,\n");
  int ends[2];
  assert_int_equal(pipe(ends), 0);
  pid_t child = fork();
  assert_true(child >= 0);
  if (child == 0)
    write_on(ends[1]);
  close(ends[1]);
  size_t before = 1;
  for (size_t told = 1; told <= 40; told++) {
    char byte;
    rw_log *l = NULL;
    rw_error err;
    assert_int_equal(read(ends[0], &byte, 1), 1);
    assert_ok(rw_log_read(book, NULL, &l, &err), &err);
    assert_true(rw_log_batches(l) >= before && rw_log_batches(l) > told);
    before = rw_log_batches(l);
    rw_log_destroy(l);
  }
  kill(child, SIGKILL);
  assert_int_equal(waitpid(child, NULL, 0), child);
  close(ends[0]);
  remove(book);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(batches_and_events),
      cmocka_unit_test(columns_may_be_few),
      cmocka_unit_test(rows_are_joined),
      cmocka_unit_test(impossible_batches),
      cmocka_unit_test(masses_within_the_scale),
      cmocka_unit_test(impossible_events),
      cmocka_unit_test(events_need_their_batch),
      cmocka_unit_test(contradictions),
      cmocka_unit_test(readings),
      cmocka_unit_test(fahrenheit_column),
      cmocka_unit_test(offsets),
      cmocka_unit_test(clock_changes),
      cmocka_unit_test(bad_headers),
      cmocka_unit_test(ragged_rows),
      cmocka_unit_test(decimal_commas),
      cmocka_unit_test(remarks_refuse_nothing),
      cmocka_unit_test(hours_without_temperature),
      cmocka_unit_test(histories),
      cmocka_unit_test(words),
      cmocka_unit_test(a_new_file),
      cmocka_unit_test(flushed_to_the_disk),
      cmocka_unit_test(an_old_file),
      cmocka_unit_test(impossible_rows_are_not_written),
      cmocka_unit_test(after_a_clock_change),
      cmocka_unit_test(after_an_interruption),
      cmocka_unit_test(killed_while_writing),
      cmocka_unit_test(a_full_disk),
      cmocka_unit_test(read_while_it_grows),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
