/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of Lua is made to fail once, together with the second try that Lua makes after
 * a collection, while the module opens, while calls are refused and while boat files are read:
 * the outcome is an error or the right result, never a crash, and nothing that Lua took is kept.
 */
#include <lauxlib.h>
#include <lualib.h>
#include <resinwright.h>
#include <stdio.h>
#include <stdlib.h>

int luaopen_resinwright(lua_State *L);

typedef struct ration {
  long first;  /* which allocation fails, and the one after it */
  long count;  /* allocations so far */
  long failed; /* allocations that failed */
  size_t held; /* bytes */
  const char *program;
} ration;

/* The first is what every other begins with, the opening of the module, and what is read and
 * described. Apart, for each allocation costs all that came before it once more. */
static const char *const programs[] = {
    "local rw = ...\n"
    "local q = rw.q '520 mm' * rw.q(2, 'm')\n"
    "local text = tostring(q) .. q:text(3)\n"
    "local ok, err = pcall(rw.read_datafile, {txt = 1})\n"
    "if ok or not tostring(err):find 'memory' and not tostring(err):find 'text' then\n"
    "  error 'a wrong field was accepted'\n"
    "end\n"
    "local t = rw.read_datafile{text = 'return {a = {1, 2, {b = [[c]]}}}', name = 'boat.lua'}\n"
    "if t.a[3].b ~= 'c' then error 'a file was read wrongly' end\n"
    "ok, err = pcall(rw.read_datafile, {text = 'return {a = os.time()}', name = 'boat.lua'})\n"
    "if ok then error 'a call in a file was accepted' end\n"
    "return #rw.describe().functions\n",
    "local rw = ...\n"
    "local law = rw.law{kind = 'nth_order', k1 = '0.01 1/min', E1 = '55 kJ/mol', n = 2}\n"
    "local fit = rw.fit_runs{law = law, free = {'ln k1'}, runs = {{temperature = '25 degC',\n"
    "  time = {unit = 'min', 30, 60, 120}, cure = {0.24, 0.37, 0.56}}}}\n"
    "if not (fit:limits{parameter = 'ln k1'}.low < fit.parameters[1].value) or\n"
    "  not fit:when{temperature = '20 degC', cure = 0.5} or\n"
    "  not fit:cure{temperature = '20 degC', time = {'1 h'}}[1] then error 'no fit' end\n"
    "local ok = pcall(rw.fit_runs, {law = law, free = {'ln k1'}, runs = {{temperature = '25 "
    "degC',\n"
    "  time = {'1 h'}, cure = {37}}}})\n"
    "if ok then error 'per cent were accepted' end\n"
    "local times = rw.fit_intervals{rows = {{exact = '2 h', x = {0}}, {exact = '3 h', x = {0}},\n"
    "  {not_yet = '4 h', already = '7 h', x = {1}}}}\n"
    "if not times:limits{coefficient = 'x1'}.low or #times.coefficients ~= 3 or\n"
    "  not times:quantile{share = 0.5, x = {0}} then error 'no estimate' end\n"
    "if rw.fit_intervals{rows = {{not_yet = '2 h'}, {not_yet = '3 h'}}} then error 'one' end\n"
    "local point = {heating = '10 K/min', temperature = '120 degC'}\n"
    "local slow = {heating = '5 K/min', temperature = '108 degC'}\n"
    "if rw.activation_energy{method = 'kas', points = {point, slow}}.low then error 'low' end\n"
    "local panel = {area = '500 cm2', bare = '1204 g', wet_out = '1227 g', filled = '1247 g'}\n"
    "if not rw.panels{panels = {panel, panel}}.uptake then error 'no uptake' end\n"
    "return 5\n",
    "local rw = ...\n"
    "local cedar = {wood = 'western-redcedar', thickness = '6 mm'}\n"
    "local cloth = {cloth = rw.cloth{name = 'glass-203-plain'}, resin = '150 g/m2'}\n"
    "local mixed = {weave = 'plain', fibres = {{fibre = 'carbon', areal_mass = '50 g/m2'},\n"
    "  {fibre = 'e-glass', areal_mass = '100 g/m2'}}}\n"
    "local ply = {wood = 'okoume', thickness = '4 mm', veneers = 3, moisture = 0.1}\n"
    "local skin = rw.laminate{plies = {cloth, cedar, mixed, ply}}\n"
    "if #skin.skins ~= 6 or skin.skins[6].veneer ~= 3 then error 'no veneers' end\n"
    "if #skin:failure{load = {Mx = '1 N'}, locked_in = {moisture = 0.15}} ~= 4 or\n"
    "  not skin:constants{}.shear_xz or not skin:hit{}.index or\n"
    "  not skin:locked_in{cure_shrinkage = 0.01}.plies[6].inner.along or\n"
    "  not skin:faired{ply = 2, thickness = {'5 mm'}}.needed then error 'no answer' end\n"
    "if not skin:strip{span = '1 m', load = '1 N/m'}.failure.factor or\n"
    "  not skin:arch{span = '1 m', rise = '5 cm', crown = '1 N/m'}.snap then error 'bent' end\n"
    "local ok = pcall(skin.panel, skin, {length = '0.9 m', width = '0.6 m'})\n"
    "if ok then error 'no load was accepted' end\n"
    "local one = rw.laminate{plies = {cloth}}\n"
    "if not rw.sealed_plank{laminate = skin, open = 0.05, girth = '0.2 m'}.bow.low or\n"
    "  not rw.patch{sound = skin, left = skin, layer = one}.for_stiffness or\n"
    "  not rw.lap_for{force = '3 kN/m', first = one, second = one, strength = '20 MPa',\n"
    "    factor = 2}.by_average or\n"
    "  not rw.doubling{plain = skin, extra = one, load = {Mx = '1 N'}}.jump.outer then\n"
    "  error 'no repair' end\n"
    "return 5\n",
    "local rw = ...\n"
    "local cedar = {wood = 'western-redcedar', thickness = '6 mm'}\n"
    "local skin = rw.laminate{plies = {cedar, {cloth = rw.cloth{name = 'glass-203-plain'}}}}\n"
    "local bent = skin:panel{length = '0.9 m', width = '0.6 m', pressure = '1 kPa'}\n"
    "if not bent.failure.face or not bent:at{x = '0.1 m', y = '0.1 m'}.Qx or\n"
    "  not bent.deepest.inner.x or #bent.warnings > 1 then error 'no panel' end\n"
    "local s = bent:spread{}\n"
    "if not s.factor.because or not (-s.held).low or\n"
    "  not skin:strip{span = '1 m', load = '1 N/m', spread = true}.spread.strain.high or\n"
    "  not skin:arch{span = '1 m', rise = '5 cm', crown = '1 N/m', spread = true}.spread.factor\n"
    "  then error 'no spread' end\n"
    "return 5\n",
    "local rw = ...\n"
    "local cloth = {layer = rw.laminate{plies = {{cloth = rw.cloth{name = 'glass-203-plain'}}}}}\n"
    "local wood = rw.laminate{plies = {{wood = 'okoume', thickness = '4 mm', veneers = 3}}}\n"
    "local set = rw.layups{outside = {kinds = {cloth}, angles = {'0 deg', '45 deg'}, most = 2},\n"
    "  cores = {{laminate = wood}}, progress = function() end}\n"
    "local wishes = {{measure = 'mass', step = '10 %'}, {measure = 'hit'}}\n"
    "local front = set:front{wishes = wishes}\n"
    "if set.count ~= 7 or #front < 2 or not set:at{number = 7}.heel or\n"
    "  set:rank{wishes = wishes, numbers = front}[1].behind < 0 or\n"
    "  set:stability{wishes = wishes, numbers = front, draws = 2}[1].worst > 7 or\n"
    "  #set:laminate{number = 7}.skins ~= 5 then error 'no layups' end\n"
    "local ok = pcall(set.rank, set, {wishes = {{measure = 'hit_core'}}})\n"
    "if ok then error 'an unknown strength was accepted' end\n"
    "return 5\n",
};
enum { PROGRAMS = sizeof programs / sizeof *programs };

/* Shrinking never fails, as Lua requires. */
static void *allocate(void *user, void *block, size_t before, size_t after)
{
  ration *r = user;
  size_t had = block != NULL ? before : 0;
  if (after == 0) {
    free(block);
    r->held -= had;
    return NULL;
  }
  if (after > had && (r->count == r->first || r->count == r->first + 1)) {
    r->count++;
    r->failed++;
    return NULL;
  }
  r->count += after > had;
  void *moved = realloc(block, after);
  if (moved != NULL)
    r->held += after - had;
  return moved;
}

static int run(lua_State *L)
{
  const char *program = lua_touserdata(L, 1);
  luaL_openlibs(L);
  luaL_requiref(L, "resinwright", luaopen_resinwright, 0);
  if (luaL_loadstring(L, program) != LUA_OK)
    return lua_error(L);
  lua_pushvalue(L, -2);
  lua_call(L, 1, 1);
  return 1;
}

/* Returns 1 where all went well. */
static int attempt(ration *r)
{
  lua_State *L = lua_newstate(allocate, r);
  if (L == NULL)
    return 0;
  lua_pushcfunction(L, run);
  lua_pushlightuserdata(L, (void *)r->program);
  int status = lua_pcall(L, 1, 1, 0);
  if (status == LUA_OK && lua_tointeger(L, -1) < 5) {
    puts("too few functions are described");
    exit(1);
  }
  if (status != LUA_OK && r->failed == 0) {
    printf("failed without want: %s\n", lua_tostring(L, -1));
    exit(1);
  }
  lua_close(L);
  return status == LUA_OK;
}

/* How many allocations stop a program, from one on; ends the test where one is kept. */
static long refusals(const char *program, long first)
{
  long refused = 0;
  for (long n = first;; n++) {
    ration r = {n, 0, 0, 0, program};
    int fine = attempt(&r);
    if (r.held != 0) {
      printf("allocation %ld: %zu bytes are kept\n", n, r.held);
      exit(1);
    }
    refused += !fine;
    if (r.failed == 0)
      return refused;
  }
}

int main(void)
{
  ration opening = {-2, 0, 0, 0, "return 5\n"};
  if (!attempt(&opening))
    return 1;
  for (int i = 0; i < PROGRAMS; i++) {
    long refused = refusals(programs[i], i == 0 ? 0 : opening.count - 100);
    if (refused < 100) {
      printf("only %ld allocations stopped program %d\n", refused, i);
      return 1;
    }
  }
  return 0;
}
