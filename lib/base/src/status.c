/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/base.h>

const char *rw_status_text(rw_status status)
{
  switch (status) {
#define RW_X(name, number, text)                                                                  \
  case name:                                                                                      \
    return text;
    RW_STATUS_LIST(RW_X)
#undef RW_X
  }
  return "unknown status";
}

const char *rw_status_name(rw_status status)
{
  switch (status) {
#define RW_X(name, number, text)                                                                  \
  case name:                                                                                      \
    return #name;
    RW_STATUS_LIST(RW_X)
#undef RW_X
  }
  return "?";
}

#define RW_STRING(x) #x
#define RW_DOTTED(a, b, c) RW_STRING(a) "." RW_STRING(b) "." RW_STRING(c)

const char *rw_version(void)
{
  return RW_DOTTED(RW_VERSION_MAJOR, RW_VERSION_MINOR, RW_VERSION_PATCH);
}

rw_status rw_status_graver(rw_status a, rw_status b)
{
  if (a < 0 || b < 0)
    return a < 0 ? a : b;
  return a > b ? a : b;
}
