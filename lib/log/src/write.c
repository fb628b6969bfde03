/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Appending a row: written to the end in one piece and flushed; nothing before it is touched. */
#include "log_inside.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MOST_BYTES = 64 * 1024 * 1024 };

/* A growing text; bytes is NULL where memory ran out. */
typedef struct text {
  char *bytes;
  size_t n;
  size_t room;
  int short_of_memory;
} text;

/* What a new row says, a cell for each column; NULL or "" is empty. */
typedef struct row {
  const char *cell[COLS];
  char made[COLS][40]; /* numbers and times */
  const char *function;
  const char *path;
  int universal;
} row;

static void put(text *t, const char *bytes, size_t n)
{
  if (t->n + n + 1 > t->room && !t->short_of_memory) {
    size_t room = 2 * (t->n + n + 64);
    char *grown = realloc(t->bytes, room);
    t->short_of_memory = grown == NULL;
    if (grown != NULL) {
      t->bytes = grown;
      t->room = room;
    }
  }
  if (t->short_of_memory)
    return;
  memcpy(t->bytes + t->n, bytes, n);
  t->n += n;
  t->bytes[t->n] = '\0';
}

static void put_text(text *t, const char *s)
{
  put(t, s, strlen(s));
}

static void put_cell(text *t, const char *cell, char separator)
{
  size_t n = rw_table_quote(cell, separator, NULL, 0);
  char *quoted = malloc(n + 1);
  if (quoted == NULL) {
    t->short_of_memory = 1;
    return;
  }
  rw_table_quote(cell, separator, quoted, n + 1);
  put(t, quoted, n);
  free(quoted);
}

static rw_status no_memory(const row *r, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, r->function, r->path, "close other programs",
                      "not enough memory to write a row of the log");
}

static rw_status bad_file(const row *r, int reason, rw_error *err)
{
  const char *hint = "look whether the folder is there and may be written to";
  const char *what = "the log cannot be written";
  if (reason == ENOSPC || reason == EFBIG || reason == EDQUOT) {
    what = "the disk is full: the row was not written";
    hint = "make room and write the row again";
  } else if (reason == EACCES || reason == EPERM || reason == EROFS) {
    what = "the log may not be written: it is locked or belongs to someone else";
    hint = "change the file's permissions, or copy it";
  }
  return rw_error_set(err, RW_ERR_FILE, r->function, r->path, hint, "%.100s: %s", r->path, what);
}

static void new_header(text *t)
{
  for (int c = 0; c < COLS; c++) {
    put_text(t, c > 0 ? "," : "");
    put_text(t, rwi_log_column_header(c));
  }
  put_text(t, "\n");
}

/* The file as it stands, or a header for a new one. */
static rw_status old_text(const row *r, text *t, size_t *n, rw_error *err)
{
  int file = open(r->path, O_RDONLY | O_CLOEXEC);
  if (file < 0 && errno != ENOENT)
    return bad_file(r, errno, err);
  *n = 0;
  if (file >= 0) {
    close(file);
    char *bytes;
    rw_status status = rw_text_slurp(r->path, MOST_BYTES, &bytes, n, err);
    if (status != RW_OK)
      return status;
    put(t, bytes, *n);
    free(bytes);
  }
  if (*n == 0)
    new_header(t);
  return t->short_of_memory ? no_memory(r, err) : RW_OK;
}

static int has_line_end(const char *cell)
{
  return strpbrk(cell, "\r\n") != NULL;
}

static rw_status check_row(const row *r, const rw_log *l, rw_error *err)
{
  for (int c = 0; c < COLS; c++) {
    const char *cell = r->cell[c];
    const char *key = rwi_log_column_key(c);
    if (cell == NULL || cell[0] == '\0')
      continue;
    if (has_line_end(cell))
      return rw_error_set(err, RW_ERR_ARGUMENT, r->function, key, "write it in one line",
                          "one line is one row: \"%s\" holds a line end", key);
    if (!l->has[c])
      return rw_error_set(err, RW_ERR_NAME, r->function, key,
                          "add the column to the first row and an empty cell to every other",
                          "%.100s has no column \"%s\"", r->path, key);
  }
  return RW_OK;
}

/* Columns that the log does not know stay empty. */
static const char *cell_at(const row *r, const rw_log *l, size_t index)
{
  for (int c = 0; c < COLS; c++)
    if (l->has[c] && l->col[c].index == index)
      return r->cell[c] != NULL ? r->cell[c] : "";
  return "";
}

static void put_row(text *t, const row *r, const rw_log *l)
{
  size_t columns = rw_table_columns(l->table);
  char separator[2] = {l->separator, '\0'};
  for (size_t i = 0; i < columns; i++) {
    put_text(t, i > 0 ? separator : "");
    put_cell(t, cell_at(r, l, i), l->separator);
  }
  put_text(t, l->carriage ? "\r\n" : "\n");
}

/* Rows that stand there already are let pass as they are. */
static rw_status parse_old(const row *r, const text *t, rw_log **l, rw_error *err)
{
  static const rw_log_options keep = {.keep_good = 1, .as_read = 1};
  return rw_log_parse(t->bytes, t->n, r->path, &keep, l, err);
}

/* A Fahrenheit column cannot be taken for Celsius here: its numbers were converted. */
static int in_fahrenheit(const rw_log *l)
{
  for (int c = COL_AIR; c <= COL_HIGH; c++)
    if (l->has[c] && l->col[c].offset != 0 && l->col[c].factor != 1)
      return 1;
  return 0;
}

/* Whether a log with the row in it would leave it out. */
static rw_status try_row(const row *r, const rw_log *old, const text *t, rw_error *err)
{
  rw_log_options keep = {.keep_good = 1, .as_read = in_fahrenheit(old)};
  rw_log *l = NULL;
  rw_status status = rw_log_parse(t->bytes, t->n, r->path, &keep, &l, err);
  if (status != RW_OK)
    return status;
  long line = rwi_log_line_count(t->bytes, t->n);
  for (size_t i = 0; i < l->notes && status == RW_OK; i++) {
    const rw_log_note *note = &l->note[i];
    if (note->line == line && note->left_out)
      status = rw_error_set(err, note->code, r->function, r->path, note->hint,
                            "the row was not written: %s", note->text);
  }
  rw_log_destroy(l);
  return status;
}

static rw_status write_all(const row *r, int file, const char *bytes, size_t n, rw_error *err)
{
  ssize_t done;
  do
    done = write(file, bytes, n);
  while (done < 0 && errno == EINTR);
  if (done == (ssize_t)n && fsync(file) == 0)
    return RW_OK;
  int reason = done >= 0 && done < (ssize_t)n ? ENOSPC : errno;
  off_t end = lseek(file, 0, SEEK_CUR);
  struct stat info;
  if (done > 0 && end >= done && fstat(file, &info) == 0 && info.st_size == end &&
      ftruncate(file, end - done) != 0)
    return bad_file(r, errno, err);
  return bad_file(r, reason, err);
}

/* A new file is found again after a power failure only if its folder is flushed too. */
static void flush_folder(const char *path)
{
  const char *slash = strrchr(path, '/');
  char folder[4096];
  size_t n = slash == NULL ? 0 : slash == path ? 1 : (size_t)(slash - path);
  if (n >= sizeof folder)
    return;
  memcpy(folder, path, n);
  folder[n] = '\0';
  int file = open(n > 0 ? folder : ".", O_RDONLY | O_CLOEXEC);
  if (file < 0)
    return;
  fsync(file);
  close(file);
}

static rw_status append(const row *r, const char *bytes, size_t n, int fresh, rw_error *err)
{
  int file = open(r->path, O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC, 0666);
  if (file < 0)
    return bad_file(r, errno, err);
  rw_status status = write_all(r, file, bytes, n, err);
  if (close(file) != 0 && status == RW_OK)
    status = bad_file(r, errno, err);
  if (fresh && status == RW_OK)
    flush_folder(r->path);
  return status;
}

static rw_status same_clock(const row *r, const rw_log *l, rw_error *err)
{
  int any = l->batches + l->events + l->readings > 0;
  if (!any || rw_log_universal(l) == r->universal)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, r->function, "universal",
                      "a log has offsets with all of its times or with none",
                      r->universal ? "%.100s has times without an offset"
                                   : "%.100s has times with an offset",
                      r->path);
}

typedef void filler(row *r, const rw_log *l, const void *what);

static rw_status add(row *r, filler *fill, const void *what, rw_error *err)
{
  text t = {0};
  size_t old, start;
  rw_log *l = NULL;
  rw_status status = old_text(r, &t, &old, err);
  start = old == 0 ? 0 : t.n;
  if (status == RW_OK)
    status = parse_old(r, &t, &l, err);
  if (status == RW_OK)
    status = same_clock(r, l, err);
  if (status == RW_OK) {
    fill(r, l, what);
    status = check_row(r, l, err);
  }
  if (status == RW_OK) {
    if (t.bytes[t.n - 1] != '\n' && t.bytes[t.n - 1] != '\r')
      put_text(&t, l->carriage ? "\r\n" : "\n");
    put_row(&t, r, l);
    status = t.short_of_memory ? no_memory(r, err) : try_row(r, l, &t, err);
  }
  if (status == RW_OK)
    status = append(r, t.bytes + start, t.n - start, old == 0, err);
  rw_log_destroy(l);
  free(t.bytes);
  return status;
}

static void put_time(row *r, const rw_log *l, int column, double t)
{
  if (isnan(t))
    return;
  double whole = floor(t + 0.5);
  rwi_log_clock(rwi_log_on_wall(l, whole), r->universal ? "Z" : "", r->made[column]);
  r->cell[column] = r->made[column];
}

static void put_number(row *r, const rw_log *l, int column, double value)
{
  if (isnan(value))
    return;
  const rw_column *c = &l->col[column];
  double number = l->has[column] ? (value - c->offset) / c->factor : value;
  rw_text_round(number, 12, r->made[column]);
  r->cell[column] = r->made[column];
}

static void fill_batch(row *r, const rw_log *l, const void *what)
{
  const rw_log_batch *b = what;
  r->cell[COL_ROW] = "batch";
  r->cell[COL_BATCH] = b->name;
  r->cell[COL_PLACE] = b->place;
  r->cell[COL_FORM] = b->form == RW_LOG_CUP ? "cup" : l->has[COL_FORM] ? "film" : "";
  put_time(r, l, COL_TIME, b->mixed);
  put_time(r, l, COL_ON_HULL, b->on_hull);
  put_number(r, l, COL_MASS, b->mass);
  put_number(r, l, COL_RESIN, b->resin);
  put_number(r, l, COL_HARDENER, b->hardener);
  put_number(r, l, COL_APPLIED, b->applied);
}

/* An event with the name of its batch. */
typedef struct named_event {
  const char *batch;
  const rw_log_event *event;
} named_event;

static void fill_event(row *r, const rw_log *l, const void *what)
{
  const named_event *n = what;
  const rw_log_event *e = n->event;
  r->cell[COL_ROW] = "event";
  r->cell[COL_BATCH] = n->batch;
  r->cell[COL_FOUND] = rw_log_found_key(e->found);
  r->cell[COL_PLACE] = e->place;
  r->cell[COL_OBSERVER] = e->observer;
  r->cell[COL_FORM] = e->form == RW_LOG_CUP ? "cup" : l->has[COL_FORM] ? "film" : "";
  put_time(r, l, COL_NOT_YET, e->not_yet);
  put_time(r, l, COL_ALREADY, e->already);
}

/* A day's low and high stand with a date alone. */
static void cut_to_date(row *r)
{
  char *date = r->made[COL_TIME];
  if (strlen(date) > 10)
    strcpy(date + 10, r->universal ? "Z" : "");
}

static void fill_reading(row *r, const rw_log *l, const void *what)
{
  const rw_log_reading *a = what;
  r->cell[COL_ROW] = "reading";
  put_time(r, l, COL_TIME, a->time);
  if (!isnan(a->low) || !isnan(a->high))
    cut_to_date(r);
  put_number(r, l, COL_AIR, a->air);
  put_number(r, l, COL_HULL, a->hull);
  put_number(r, l, COL_HUMIDITY, a->humidity);
  put_number(r, l, COL_LOW, a->low);
  put_number(r, l, COL_HIGH, a->high);
}

static rw_status nothing(const char *function, const char *path, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, function, path == NULL ? "path" : "row", NULL,
                      "a file name and a row to write are needed");
}

rw_status rw_log_add_batch(const char *path, const rw_log_batch *batch, int universal,
                           rw_error *err)
{
  row r = {.function = "rw_log_add_batch", .path = path, .universal = universal != 0};
  if (path == NULL || batch == NULL)
    return nothing(r.function, path, err);
  return add(&r, fill_batch, batch, err);
}

rw_status rw_log_add_event(const char *path, const char *batch, const rw_log_event *event,
                           int universal, rw_error *err)
{
  row r = {.function = "rw_log_add_event", .path = path, .universal = universal != 0};
  if (path == NULL || batch == NULL || event == NULL)
    return nothing(r.function, path, err);
  named_event n = {batch, event};
  return add(&r, fill_event, &n, err);
}

rw_status rw_log_add_reading(const char *path, const rw_log_reading *reading, int universal,
                             rw_error *err)
{
  row r = {.function = "rw_log_add_reading", .path = path, .universal = universal != 0};
  if (path == NULL || reading == NULL)
    return nothing(r.function, path, err);
  return add(&r, fill_reading, reading, err);
}
