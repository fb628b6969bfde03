/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file log.h
 * @brief Fourth floor: a logbook of batches, of what was found on them and of temperatures.
 *
 * One table file, one line a row; docs/logbook.md describes its columns. Times are seconds since
 * 1970-01-01 00:00: universal time where the log gives an offset with its times, else the clock
 * on the wall as it ran when the log began. A number that was not written is NaN, a text "".
 *
 * Threads: reentrant; a finished log may be read by many threads.
 */
#ifndef RESINWRIGHT_LOG_H
#define RESINWRIGHT_LOG_H

#include <resinwright/base.h>
#include <resinwright/history.h>

#ifdef __cplusplus
extern "C" {
#endif

/**
 * What a hand finds on a film or in a cup: X(name, key, stage, passing, text).
 *
 * A word of a later stage cannot have come before one of an earlier stage; words of one stage may
 * come in any order. A passing word is a state that ends: what is tacky now has not been hard
 * before.
 */
#define RW_LOG_FOUND_LIST(X)                                                                      \
  X(RW_FOUND_THICK, "thick", 1, 0, "too thick to spread and wet out cloth")                       \
  X(RW_FOUND_GELLED, "gelled", 2, 0, "no longer flows")                                           \
  X(RW_FOUND_TACKY, "tacky", 2, 1, "no longer wet: clings to a finger and stays on the hull")     \
  X(RW_FOUND_FIRM, "firm", 3, 0, "the next coat no longer shifts the cloth")                      \
  X(RW_FOUND_TACK_FREE, "tack_free", 4, 0, "a clean finger no longer sticks")                     \
  X(RW_FOUND_CUTS_CLEAN, "cuts_clean", 4, 0, "leathery: the cloth cuts without dragging")         \
  X(RW_FOUND_CUTS_HARD, "cuts_hard", 5, 0, "too hard to cut with a knife")                        \
  X(RW_FOUND_THUMBNAIL_NONE, "thumbnail_none", 5, 0, "a thumbnail leaves no mark")                \
  X(RW_FOUND_HARD, "hard", 5, 0, "hard to the hand")                                              \
  X(RW_FOUND_SANDS, "sands", 6, 0, "sands to powder")

/** What was found, see @ref RW_LOG_FOUND_LIST. */
typedef enum rw_log_found {
/** @cond expansion */
#define RW_X(name, key, stage, passing, text) name,
  RW_LOG_FOUND_LIST(RW_X)
#undef RW_X
      RW_FOUND_WORDS
  /** @endcond */
} rw_log_found;
/**
 * Key of a word, as it stands in the log: "cuts_clean".
 * @param found  word
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_log_found_key(rw_log_found found);
/**
 * What a word means to the hand.
 * @param found  word
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_log_found_text(rw_log_found found);
/**
 * Stage of a word, see @ref RW_LOG_FOUND_LIST.
 * @param found  word
 * @return from 1, 0 where there is no such word
 */
RW_API int rw_log_found_stage(rw_log_found found);

/** What was looked at. */
typedef enum rw_log_form {
  RW_LOG_FILM, /**< on the hull or a panel */
  RW_LOG_CUP   /**< left in the cup it was mixed in */
} rw_log_form;

/** A batch. */
typedef struct rw_log_batch {
  const char *name;  /**< name or number as written */
  double mixed;      /**< s, when mixing ended */
  double on_hull;    /**< s, when it was spread, >= mixed; NaN */
  double mass;       /**< kg mixed, taken as resin and hardener together where not written; NaN */
  double resin;      /**< kg; NaN */
  double hardener;   /**< kg; NaN */
  double applied;    /**< kg that stayed on the hull; NaN */
  rw_log_form form;  /**< what is looked at where an event does not say */
  const char *place; /**< where on the hull; "" */
  int suspect;       /**< 1 where a remark doubts its ratio */
  long line;         /**< line in the file */
} rw_log_batch;

/** How much the rows about an event tell. */
typedef enum rw_log_known {
  RW_LOG_LEFT,     /**< seen already, never seen before it */
  RW_LOG_RIGHT,    /**< seen not yet, never seen after it */
  RW_LOG_INTERVAL, /**< came between two looks */
  RW_LOG_EXACT     /**< both times are the same */
} rw_log_known;

/**
 * An event of a batch. Rows with the same batch, word, observer, form and place are one event: it
 * came after the last look that found it not yet and before the first that found it already.
 */
typedef struct rw_log_event {
  size_t batch;         /**< index of the batch */
  rw_log_found found;   /**< what */
  rw_log_known known;   /**< how much is known */
  double not_yet;       /**< s, last look that found it not yet; NaN */
  double already;       /**< s, first look that found it already; NaN */
  rw_log_form form;     /**< film or cup */
  const char *place;    /**< spot looked at; "" */
  const char *observer; /**< who looked; "" */
  size_t who;           /**< index of the observer */
  long line;            /**< first line about it */
} rw_log_event;

/** A reading, or a day's low and high. */
typedef struct rw_log_reading {
  double time;     /**< s; the day's midnight where low and high are given */
  double air;      /**< K; NaN */
  double hull;     /**< K; NaN */
  double humidity; /**< 0 to 1; NaN */
  double low;      /**< K, the day's coldest air; NaN */
  double high;     /**< K, the day's warmest air; NaN */
  long line;       /**< line in the file */
} rw_log_reading;

/** A row that was left out, or a remark. */
typedef struct rw_log_note {
  long line;      /**< line in the file; 0 for the log as a whole */
  int left_out;   /**< 1: the row is not in the log; 0: a remark */
  rw_status code; /**< what is wrong with a row left out; RW_OK for a remark */
  char text[256]; /**< one sentence */
  char hint[200]; /**< what to try; may be empty */
} rw_log_note;

/** How to read. All zero: the first row that cannot be right refuses the log. */
typedef struct rw_log_options {
  int keep_good; /**< 1: leave out the rows that cannot be right and keep the others */
  int as_read;   /**< 1: take temperatures as they stand, also above 45 degC */
  double ratio;  /**< kg hardener per kg resin on the label, 0.02 to 5; 0: not known */
} rw_log_options;

/** A logbook. */
typedef struct rw_log rw_log;

/**
 * Read a log from memory.
 *
 * A row is left out (or, unless keep_good is given, refuses the log) where: it has more or fewer
 * cells than the header, an open quote or a cell that cannot be read; a kind of row or a word for
 * what was found is not known (the nearest is named); a needed cell is empty; it stands there
 * twice; a date is missing, or most times of the log have an offset and this one has none or the
 * other way round; a time falls into an hour that a change of the clock left out or brought twice;
 * its batch is not known; a time lies before mixing or more than 400 days after it; a batch came
 * on the hull more than 12 h after mixing; a look that found it already lies before one that found
 * it not yet; the words contradict their order; resin and hardener do not add up to what was
 * mixed, or more was applied than mixed (2 % and at least 3 g are let pass); a temperature above
 * 45 in a degC column, or any in a degF column whose readings all lie below freezing (unless
 * as_read); a humidity outside 0 to 1; two readings at one time.
 *
 * Remarks: no row at all; one word only; an observer with one note; observers who contradict each
 * other; a ratio outside 0.08 to 1.3, more than a tenth off the label or, where there is none, off
 * the middle one of the log; a reading that would fit better as Fahrenheit; hours of a batch
 * without a temperature; cells that a kind of row does not use; a last row without a line end; and
 * with keep_good a column that is not known.
 * @param bytes    the text, UTF-8
 * @param n        its length, at most 64 MiB
 * @param name     file name for messages, or NULL
 * @param options  how to read, or NULL for all zero
 * @param out      log; free with rw_log_destroy
 * @param err      error record, or NULL: argument is the name, line is set
 * @return RW_OK; RW_ERR_SYNTAX for a text without a header or one that cannot be read;
 *         RW_ERR_NAME for a header without "row" or with a column that is not known; RW_ERR_UNIT
 *         for a column without its unit; RW_ERR_RANGE for the ratio or a text too large; without
 *         keep_good the code of the first row that would be left out; RW_ERR_MEMORY
 */
RW_API rw_status rw_log_parse(const char *bytes, size_t n, const char *name,
                              const rw_log_options *options, rw_log **out, rw_error *err);
/**
 * Read a log from a file, once and as a whole: what is written to it meanwhile is not seen.
 * @param path     file
 * @param options  how to read, or NULL for all zero
 * @param out      log; free with rw_log_destroy
 * @param err      error record, or NULL
 * @return as rw_log_parse; RW_ERR_FILE
 */
RW_API rw_status rw_log_read(const char *path, const rw_log_options *options, rw_log **out,
                             rw_error *err);
/**
 * Free a log.
 * @param l  log, or NULL
 */
RW_API void rw_log_destroy(rw_log *l);

/**
 * Whether the log's times are universal time.
 * @param l  log
 * @return 1 where they were written with an offset, else 0
 */
RW_API int rw_log_universal(const rw_log *l);
/**
 * Batches, in the order of their lines.
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_batches(const rw_log *l);
/**
 * A batch.
 * @param l  log, owns the result
 * @param i  from 0
 * @return batch; NULL beyond the last
 */
RW_API const rw_log_batch *rw_log_batch_at(const rw_log *l, size_t i);
/**
 * Find a batch by name; letter case is not counted.
 * @param l     log
 * @param name  name
 * @param i     index
 * @param err   error record, or NULL: the nearest name
 * @return RW_OK; RW_ERR_NAME
 */
RW_API rw_status rw_log_find(const rw_log *l, const char *name, size_t *i, rw_error *err);
/**
 * Events, in the order of their first lines.
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_events(const rw_log *l);
/**
 * An event.
 * @param l  log, owns the result
 * @param i  from 0
 * @return event; NULL beyond the last
 */
RW_API const rw_log_event *rw_log_event_at(const rw_log *l, size_t i);
/**
 * Observers, in the order in which they first appear; one who is not named counts as "".
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_observers(const rw_log *l);
/**
 * Name of an observer.
 * @param l  log, owns the result
 * @param i  from 0
 * @return name; NULL beyond the last
 */
RW_API const char *rw_log_observer_at(const rw_log *l, size_t i);
/**
 * Readings, by time.
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_readings(const rw_log *l);
/**
 * A reading.
 * @param l  log, owns the result
 * @param i  from 0
 * @return reading; NULL beyond the last
 */
RW_API const rw_log_reading *rw_log_reading_at(const rw_log *l, size_t i);
/**
 * Rows left out and remarks, by line.
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_notes(const rw_log *l);
/**
 * A row left out, or a remark.
 * @param l  log, owns the result
 * @param i  from 0
 * @return note; NULL beyond the last
 */
RW_API const rw_log_note *rw_log_note_at(const rw_log *l, size_t i);
/**
 * Rows left out.
 * @param l  log
 * @return count
 */
RW_API size_t rw_log_left_out(const rw_log *l);

/**
 * The hours for which a batch needs temperatures: from mixing to the last look at it.
 * @param l      log
 * @param batch  index
 * @param from   s
 * @param to     s; the moment of mixing where nobody looked
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for an index beyond the last
 */
RW_API rw_status rw_log_span(const rw_log *l, size_t batch, double *from, double *to,
                             rw_error *err);

/** Which thermometer. */
typedef enum rw_log_sensor {
  RW_LOG_AIR, /**< readings of the air; lows and highs where no reading stands within 3 h */
  RW_LOG_HULL /**< readings of the hull */
} rw_log_sensor;

/** Longest time between two readings that a straight line may bridge by common practice (no
 * source), a night, in s. */
#define RW_LOG_BRIDGE 43200.0

/** Hours without a temperature. */
typedef struct rw_log_gap {
  double from; /**< s */
  double to;   /**< s */
} rw_log_gap;
/**
 * The hours without a temperature between two times. A reading holds for half the bridge before
 * the first and after the last one.
 * @param l       log
 * @param sensor  air or hull
 * @param from    s
 * @param to      s, >= from
 * @param bridge  s, longest time between two readings that is no gap, 60 to 1e7; RW_LOG_BRIDGE
 * @param gap     the first `room` gaps, rising; or NULL where room is 0
 * @param room    how many fit
 * @param n       how many there are
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_log_gaps(const rw_log *l, rw_log_sensor sensor, double from, double to,
                             double bridge, rw_log_gap *gap, size_t room, size_t *n,
                             rw_error *err);
/**
 * The temperatures of a log as a history that reaches from one time to another, or beyond.
 * @param l       log
 * @param sensor  air (with humidity where it was read) or hull
 * @param from    s
 * @param to      s, > from
 * @param bridge  as in rw_log_gaps
 * @param out     history; free with rw_history_destroy
 * @param err     error record, or NULL: RW_ERR_COVERAGE names the hours that are missing
 * @return RW_OK; RW_OUTSIDE_TESTED above 400 K; RW_ERR_COVERAGE where rw_log_gaps finds one;
 *         RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_log_history(const rw_log *l, rw_log_sensor sensor, double from, double to,
                                double bridge, rw_history **out, rw_error *err);

/**
 * Append a batch to a log file.
 *
 * The row is written to the end in one piece and flushed to the disk before the call returns;
 * nothing that stands in the file is touched, so an interruption can lose no more than this row.
 * Where the disk is full the part that was written is taken away again. A file that does not exist
 * is made, with a header. The row keeps to the columns, units, separator and line ends that the
 * file has; numbers have 12 digits, times whole seconds. A row that rw_log_parse would leave out
 * is refused, and nothing is written.
 * @param path       file
 * @param batch      batch; line and suspect are not looked at
 * @param universal  1: times are universal time and written with an offset; 0: as the clock shows
 *                   them. A log has the one or the other throughout
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_FILE where it cannot be written; RW_ERR_NAME where the file lacks a
 * column; RW_ERR_ARGUMENT for a text with a line end, or NULL; as rw_log_parse
 */
RW_API rw_status rw_log_add_batch(const char *path, const rw_log_batch *batch, int universal,
                                  rw_error *err);
/**
 * Append an event to a log file; see rw_log_add_batch.
 * @param path       file
 * @param batch      name of the batch
 * @param event      event; batch, known, who and line are not looked at
 * @param universal  1: universal time, 0: as the clock shows it
 * @param err        error record, or NULL
 * @return as rw_log_add_batch
 */
RW_API rw_status rw_log_add_event(const char *path, const char *batch, const rw_log_event *event,
                                  int universal, rw_error *err);
/**
 * Append a reading to a log file; see rw_log_add_batch.
 * @param path       file
 * @param reading    reading; line is not looked at
 * @param universal  1: universal time, 0: as the clock shows it
 * @param err        error record, or NULL
 * @return as rw_log_add_batch
 */
RW_API rw_status rw_log_add_reading(const char *path, const rw_log_reading *reading, int universal,
                                    rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
