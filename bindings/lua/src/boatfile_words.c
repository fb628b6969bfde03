/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why a boat file cannot be used, in one sentence with its name and line. */
#include "boatfile.h"

#include <stdlib.h>
#include <string.h>

enum { LONGEST_REASON = 160 };

static const char data_only[] = "is not available in a boat file, which holds data only";

_Noreturn void rwl_boatfile_refuse(lua_State *L, const char *name, rw_status code, long line,
                                   const char *text, const char *hint)
{
  const char *file = rwl_say_line(L, name, LONGEST_REASON);
  const char *message = line > 0 ? lua_pushfstring(L, "%s, line %d: %s", file, (int)line, text)
                                 : lua_pushfstring(L, "%s: %s", file, text);
  rwl_refusal r = {code, file, message, NULL, hint, 0, line};
  rwl_refuse(L, &r);
}

/* Splits "f:12: reason". */
static const char *reason_of(lua_State *from, long *line)
{
  const char *text = lua_type(from, -1) == LUA_TSTRING ? lua_tostring(from, -1) : "";
  if (strncmp(text, "f:", 2) != 0)
    return text;
  char *end;
  long number = strtol(text + 2, &end, 10);
  if (end == text + 2 || strncmp(end, ": ", 2) != 0)
    return text;
  *line = number;
  return end + 2;
}

static int says(const char *reason, const char *what)
{
  return strstr(reason, what) != NULL;
}

/* Pushes the name in "... (global 'os')", or returns NULL. */
static const char *global_in(lua_State *L, const char *reason)
{
  static const char mark[] = "(global '";
  const char *start = strstr(reason, mark);
  if (start == NULL)
    return NULL;
  start += sizeof mark - 1;
  return rwl_say_text(L, start, strcspn(start, "'"));
}

static _Noreturn void explain_run(lua_State *L, const char *name, const char *reason, long line)
{
  const char *global = global_in(L, reason);
  const char *text, *hint = NULL;
  if (says(reason, "stack overflow")) {
    text = "a function calls itself without end";
  } else if (global != NULL) {
    text = lua_pushfstring(L, "%s %s", global, data_only);
    hint = "put words in quotes, write a value itself, or give the name one above";
  } else if (says(reason, "index a string value")) {
    text = lua_pushfstring(L, "a function of texts %s", data_only);
  } else {
    text = lua_pushfstring(L, "the value cannot be worked out: %s",
                           rwl_say_line(L, reason, LONGEST_REASON));
  }
  rwl_boatfile_refuse(L, name, RW_ERR_SYNTAX, line, text, hint);
}

static _Noreturn void explain_syntax(lua_State *L, const char *name, const char *reason, long line)
{
  const char *text =
      lua_pushfstring(L, "this cannot be read: %s", rwl_say_line(L, reason, LONGEST_REASON));
  rwl_boatfile_refuse(L, name, RW_ERR_SYNTAX, line, text,
                      "look for a missing comma, quote or brace there or in the line before");
}

_Noreturn void rwl_boatfile_explain(lua_State *L, rwl_sandbox *s, int status, const char *name)
{
  long line = s->line;
  if (s->stopped)
    rwl_boatfile_refuse(L, name, RW_ERR_RANGE, line, "it runs on and on without returning",
                        "is there a loop that never ends?");
  if (status == LUA_ERRMEM)
    rwl_boatfile_refuse(L, name, RW_ERR_MEMORY, line,
                        lua_pushfstring(L, "it needs more memory than the %d MiB of a boat file",
                                        (int)RWL_SANDBOX_MIB),
                        "is there a loop or a function that never ends?");
  const char *reason = reason_of(s->state, &line);
  if (status == LUA_ERRSYNTAX)
    explain_syntax(L, name, reason, line);
  explain_run(L, name, reason, line);
}
