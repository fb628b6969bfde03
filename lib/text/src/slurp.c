/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "private.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* What is being read, and for whom. */
struct source {
  int file;
  size_t limit;
  const char *path;
  const char *function;
  rw_error *err;
};

/* A growing text; room counts the byte for the closing NUL. */
struct store {
  char *bytes;
  size_t n;
  size_t room;
};

static rw_status no_memory(const struct source *s)
{
  return rw_error_set(s->err, RW_ERR_MEMORY, s->function, s->path, "close other programs",
                      "not enough memory to read the file");
}

static rw_status bad_file(const struct source *s, int reason)
{
  char name[RWI_NAME];
  rwi_text_name(s->path, name);
  const char *before = "", *after = " cannot be read";
  const char *hint = "copy the file to another place and try again";
  if (reason == ENOENT || reason == ENOTDIR) {
    before = "there is no file ";
    after = "";
    hint = "check the name and the folder; names count letter case";
  } else if (reason == EISDIR) {
    after = " is a folder, not a file";
    hint = "name a file inside it";
  } else if (reason == EACCES || reason == EPERM) {
    after = " may not be read: it belongs to someone else or is locked";
    hint = "change the file's permissions or copy it";
  }
  return rw_error_set(s->err, RW_ERR_FILE, s->function, s->path, hint, "%s\"%s\"%s", before, name,
                      after);
}

static rw_status too_large(const struct source *s)
{
  char name[RWI_NAME];
  rwi_text_name(s->path, name);
  return rw_error_set(s->err, RW_ERR_RANGE, s->function, s->path,
                      "split it, or leave out what is not needed",
                      "\"%s\" is too large: allowed are at most %zu bytes", name, s->limit);
}

static ssize_t read_some(int file, char *to, size_t n)
{
  ssize_t got;
  do
    got = read(file, to, n);
  while (got < 0 && errno == EINTR);
  return got;
}

static rw_status grow(const struct source *s, struct store *to)
{
  size_t room = to->room > s->limit / 2 ? s->limit + 1 : to->room * 2;
  char *bytes = realloc(to->bytes, room);
  if (bytes == NULL)
    return no_memory(s);
  to->bytes = bytes;
  to->room = room;
  return RW_OK;
}

/* One byte beyond the limit, if there is one, is read aside. */
static rw_status read_all(const struct source *s, struct store *to)
{
  for (;;) {
    char aside;
    int full = to->n == s->limit;
    if (!full && to->n + 1 == to->room) {
      rw_status status = grow(s, to);
      if (status != RW_OK)
        return status;
    }
    ssize_t got = full ? read_some(s->file, &aside, 1)
                       : read_some(s->file, to->bytes + to->n, to->room - 1 - to->n);
    if (got < 0)
      return bad_file(s, errno);
    if (got == 0) {
      to->bytes[to->n] = '\0'; /* NOLINT: room is limit + 1 at most and never 0 */
      return RW_OK;
    }
    if (full)
      return too_large(s);
    to->n += (size_t)got;
  }
}

static rw_status first_room(const struct source *s, struct store *to)
{
  struct stat info;
  if (fstat(s->file, &info) != 0)
    return bad_file(s, errno);
  if (S_ISDIR(info.st_mode))
    return bad_file(s, EISDIR);
  if (S_ISREG(info.st_mode) && info.st_size > 0 && (uintmax_t)info.st_size > s->limit)
    return too_large(s);
  size_t expected = S_ISREG(info.st_mode) && info.st_size > 0 ? (size_t)info.st_size + 1 : 4096;
  to->room = (expected < s->limit ? expected : s->limit) + 1;
  to->bytes = malloc(to->room);
  return to->bytes != NULL ? RW_OK : no_memory(s);
}

rw_status rwi_text_slurp(const char *function, const char *path, size_t limit, char **bytes,
                         size_t *n, rw_error *err)
{
  if (limit > SIZE_MAX / 4)
    limit = SIZE_MAX / 4;
  struct source s = {-1, limit, path, function, err};
  struct store to = {NULL, 0, 0};
  s.file = open(path, O_RDONLY | O_CLOEXEC);
  if (s.file < 0)
    return bad_file(&s, errno);
  rw_status status = first_room(&s, &to);
  if (status == RW_OK)
    status = read_all(&s, &to);
  close(s.file);
  if (status != RW_OK) {
    free(to.bytes);
    return status;
  }
  *bytes = to.bytes;
  *n = to.n;
  return RW_OK;
}

rw_status rw_text_slurp(const char *path, size_t limit, char **bytes, size_t *n, rw_error *err)
{
  static const char function[] = "rw_text_slurp";
  if (path == NULL || bytes == NULL || n == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, path == NULL ? "path" : "bytes", NULL,
                        "a file name and places for the text and its length are needed");
  return rwi_text_slurp(function, path, limit, bytes, n, err);
}
