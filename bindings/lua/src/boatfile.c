/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rw.read_datafile: a boat file is a Lua text that returns one table of data. It runs apart, with
 * nothing but the language itself, and only a copy of its data comes back. */
#include "boatfile.h"

#include <stdlib.h>
#include <string.h>

enum { LONGEST_FILE = 1 << 20 };

/* Owned by Lua, and closed on the way out, also where an error passes through. */
typedef struct boatfile {
  rwl_sandbox sandbox;
  char *bytes;
} boatfile;

static int release(lua_State *L)
{
  boatfile *b = rwl_test_object(L, 1, "boat file");
  if (b == NULL)
    return 0;
  rwl_sandbox_close(&b->sandbox);
  free(b->bytes);
  b->bytes = NULL;
  return 0;
}

/* The text to run, from one of the two fields. */
static const char *text_of(lua_State *L, boatfile *b, size_t *n)
{
  const char *path, *text;
  rwl_get_path_or_text(L, "rw.read_datafile{path = \"boat.lua\"}", &path, &text, n);
  if (text != NULL)
    return text;
  rw_error err;
  rwl_check(L, rw_text_slurp(path, LONGEST_FILE, &b->bytes, n, &err), &err);
  return b->bytes;
}

/* Past a byte order mark and a first line that starts with '#', whose line end is kept. */
static const char *skip_preamble(const char *text, size_t *n)
{
  const char *end = text + *n;
  if (*n >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
    text += 3;
  if (text < end && *text == '#')
    while (text < end && *text != '\n')
      text++;
  *n = (size_t)(end - text);
  return text;
}

static void check_text(lua_State *L, const char *name, const char *text, size_t n)
{
  if (n > 0 && text[0] == LUA_SIGNATURE[0])
    rwl_boatfile_refuse(L, name, RW_ERR_SYNTAX, 0, "this is a compiled Lua program, not a text",
                        "save the boat file as plain text");
  if (n > LONGEST_FILE)
    rwl_boatfile_refuse(L, name, RW_ERR_RANGE, 0, "the text is longer than 1 MiB",
                        "a boat file holds the data of one boat");
}

static int read_datafile(lua_State *L)
{
  const char *name = rwl_get_string(L, "name", rwl_get_string(L, "path", "boat file", NULL), NULL);
  boatfile *b = rwl_push_object(L, "boat file", sizeof *b);
  lua_toclose(L, -1);
  size_t n = 0;
  const char *text = text_of(L, b, &n);
  text = skip_preamble(text, &n);
  check_text(L, name, text, n);
  if (!rwl_sandbox_open(&b->sandbox))
    rwl_boatfile_refuse(L, name, RW_ERR_MEMORY, 0, "there is not enough memory to read it", NULL);
  int status = rwl_sandbox_run(&b->sandbox, text, n);
  if (status != LUA_OK)
    rwl_boatfile_explain(L, &b->sandbox, status, name);
  rwl_boatfile_copy(L, b->sandbox.state, name);
  return 1;
}

static const rwl_field fields[] = {
    RWL_MAY("path", RWL_STRING, "", NULL, "the file to read"),
    RWL_MAY("text", RWL_STRING, "", NULL, "its text, where it is not read from a file"),
    RWL_MAY("name", RWL_STRING, "", NULL, "what to call it in messages; the path, if left out"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"read_datafile", NULL, RWL_NAMED, fields,
     "Reads a file of data written as a Lua table. The file cannot call, open or change anything; "
     "one that runs too long, takes too much memory or holds more than data is refused.",
     "table", read_datafile},
    RWL_END_FUNCTIONS,
};

static const luaL_Reg events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};

static const rwl_type types[] = {
    {"boat file", NULL, NULL, NULL, NULL, events},
    RWL_END_TYPES,
};

const rwl_set rwl_boatfile_set = {functions, types};
