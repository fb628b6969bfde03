/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tables.h"

#include <stdio.h>
#include <string.h>

static const char *const kind_name[RW_MATERIAL_KINDS] = {"fibre", "cloth", "wood", "resin"};

static char lower(char c)
{
  return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* Letter case is not counted, in the same way in every locale. */
static int same(const char *a, const char *b)
{
  while (*a != '\0' && lower(*a) == lower(*b)) {
    a++;
    b++;
  }
  return *a == *b;
}

static const rw_material_list *list_of(rw_material_kind kind)
{
  unsigned k = (unsigned)kind;
  return k < RW_MATERIAL_KINDS ? &rw_material_lists[k] : NULL;
}

/* "a, b, c" into a text of a given size; 0 where it does not fit. */
static int join(const char *const *name, size_t n, char *to, size_t size)
{
  size_t used = 0;
  to[0] = '\0';
  for (size_t i = 0; i < n; i++) {
    int wrote = snprintf(to + used, size - used, "%s%s", i > 0 ? ", " : "", name[i]);
    if (wrote < 0 || (size_t)wrote >= size - used)
      return 0;
    used += (size_t)wrote;
  }
  return n > 0;
}

/* The nearest name and, where the list is short enough, all of them. */
static void write_hint(const char *asked, const char *const *name, size_t n, char *to, size_t size)
{
  int nearest = rw_nearest_name(asked, name, n);
  int wrote = 0;
  if (nearest >= 0)
    wrote = snprintf(to, size, "perhaps \"%.60s\"; ", name[nearest]);
  char *rest = to + wrote;
  size_t left = size - (size_t)wrote;
  char all[200];
  if (join(name, n, all, sizeof all))
    snprintf(rest, left, "there are: %s", all);
  else
    snprintf(rest, left, "there are %zu, such as \"%.60s\": see the list of materials", n,
             name[0]);
}

static rw_status no_material(rw_material_kind kind, const rw_material_list *list,
                             const char *asked, rw_error *err)
{
  if (err == NULL)
    return RW_ERR_NAME;
  const char *name[RW_MOST_MATERIALS];
  char hint[256];
  for (size_t i = 0; i < list->count; i++)
    name[i] = list->material[i].name;
  write_hint(asked, name, list->count, hint, sizeof hint);
  return rw_error_set(err, RW_ERR_NAME, "rw_material_find", "name", hint,
                      "no %s is called \"%.60s\"", kind_name[kind], asked);
}

rw_status rw_material_find(rw_material_kind kind, const char *name, const rw_material **out,
                           rw_error *err)
{
  const rw_material_list *list = list_of(kind);
  if (list == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_material_find", "kind",
                        "ask for a fibre, a cloth, a wood or a resin",
                        "there is no kind of material number %d", (int)kind);
  if (name == NULL || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_material_find", name == NULL ? "name" : "out",
                        "give the name of a material and a place for it", "%s is missing",
                        name == NULL ? "the material's name" : "out");
  for (size_t i = 0; i < list->count; i++) {
    if (same(list->material[i].name, name)) {
      *out = &list->material[i];
      return RW_OK;
    }
  }
  return no_material(kind, list, name, err);
}

const rw_material *rw_material_at(rw_material_kind kind, size_t index)
{
  const rw_material_list *list = list_of(kind);
  return list != NULL && index < list->count ? &list->material[index] : NULL;
}

static rw_status no_property(const rw_material *m, const char *asked, rw_error *err)
{
  if (err == NULL)
    return RW_ERR_NAME;
  const char *name[RW_MOST_PROPERTIES];
  char hint[256] = "it has none";
  size_t n = 0;
  while (n < m->count && n < RW_MOST_PROPERTIES) {
    name[n] = m->property[n].name;
    n++;
  }
  if (n > 0)
    write_hint(asked, name, n, hint, sizeof hint);
  return rw_error_set(err, RW_ERR_NAME, "rw_material_property", "name", hint,
                      "%s \"%s\" has no property \"%.60s\"", kind_name[m->kind], m->name, asked);
}

rw_status rw_material_property(const rw_material *m, const char *name, const rw_property **out,
                               rw_error *err)
{
  if (m == NULL || name == NULL || out == NULL)
    return rw_error_set(
        err, RW_ERR_ARGUMENT, "rw_material_property",
        m == NULL ? "m" : (name == NULL ? "name" : "out"),
        "give a material, the name of a property and a place for it", "%s is missing",
        m == NULL ? "the material" : (name == NULL ? "the property's name" : "out"));
  for (size_t i = 0; i < m->count; i++) {
    if (same(m->property[i].name, name)) {
      *out = &m->property[i];
      return RW_OK;
    }
  }
  return no_property(m, name, err);
}
