-- SPDX-License-Identifier: GPL-3.0-or-later
-- Proves that the gate of published values and the embedding of materials refuse what they should:
--   lua5.4 tests/gates/provenance_selftest.lua
local here = arg[0]:match("^(.*)/[^/]*$") or "."
local gate = here .. "/provenance.lua"
local embed = here .. "/../../lib/cmake/embed_materials.lua"

local points = "id,what,expected,unit,tolerance,mode,reason,source,standing\n"
local header = "name,title,weave,fibre,property,value,unit,sd,low,high,standing,source\n"
local heads = "# source: book\n# standing: read\n# tolerance: 1 %\n"
  .. "# reason: as printed\n# units: 1\n"

-- A small tree without a fault.
local function sound()
  return {
    ["SOURCES.csv"] = "id,title,where,standing,note\nbook,A book,a shelf,read,\n"
      .. "memory,Memory,nowhere,memory,\n",
    ["checks/points_a.csv"] = points
      .. 'p1,"one, with a comma",1.5,m,0.01,abs,two digits,book,read\n'
      .. "p2,two,0,1,0,abs,exact by symmetry,book,computed\n"
      .. "p3,three,2,1,1e-6,rel,recomputed here,memory,memory\n"
      .. "p4,four,2,1,0.05,rel,loose,book; memory,derived\n",
    ["checks/table_b.csv"] = heads .. "x,y,source\n1,2,book\n",
    ["materials/fibres.csv"] = header
      .. "glass,a fibre,,,density,2.5,g/cm3,0.1,2.4,2.6,read,book\n"
      .. "glass,,,,Tg,20,degC,3,-10,40,memory,memory\n",
    ["materials/cloths.csv"] = header
      .. "cloth,a cloth,plain,glass,areal_mass,200,g/m2,8,180,220,read,book\n",
    ["materials/woods.csv"] = header .. "wood,a wood,,,soak,0.1,kg/m2,0.03,0.05,0.2,read,book\n",
    ["materials/matrix.csv"] = header .. "resin,a resin,,,E,3,GPa,0.5,2.5,4,read,book\n",
  }
end

local function change(file, from, to)
  return function(tree)
    local at, last = tree[file]:find(from, 1, true)
    assert(at, "the fault \"" .. from .. "\" does not apply to " .. file)
    tree[file] = tree[file]:sub(1, at - 1) .. to .. tree[file]:sub(last + 1)
  end
end

local function extra(file, text)
  return function(tree)
    tree[file] = text
  end
end

local P, T, F, C = "checks/points_a.csv", "checks/table_b.csv", "materials/fibres.csv",
  "materials/cloths.csv"

-- { what, change, part of the sentence expected }
local gate_faults = {
  { "no expected value", change(P, "1.5,m", ",m"), "expected is missing" },
  { "expected is a word", change(P, "1.5,m", "much,m"), "is not a number" },
  { "expected is hexadecimal", change(P, "1.5,m", "0x10,m"), "is not a number" },
  { "no unit", change(P, "1.5,m", "1.5,"), "unit is missing" },
  { "no tolerance", change(P, "0.01,abs", ",abs"), "tolerance is missing" },
  { "tolerance is a word", change(P, "0.01,abs", "small,abs"), "is not a number" },
  { "negative tolerance", change(P, "0.01,abs", "-0.01,abs"), "negative" },
  { "zero tolerance", change(P, "exact by symmetry", "by symmetry"), "does not say exact" },
  { "no mode", change(P, "0.01,abs", "0.01,"), "mode is missing" },
  { "unknown mode", change(P, "0.01,abs", "0.01,absolute"), "neither abs nor rel" },
  { "no reason", change(P, "two digits", ""), "reason is missing" },
  { "no source", change(P, "two digits,book", "two digits,"), "source is missing" },
  { "unknown source", change(P, "two digits,book", "two digits,rumour"), "rumour" },
  { "one of two sources unknown", change(P, "book; memory", "book; rumour"), "rumour" },
  { "no standing", change(P, "book,read", "book,"), "standing is missing" },
  { "unknown standing", change(P, "book,read", "book,heard"), "unknown standing" },
  { "tight relative test of memory", change(P, "recomputed here", "recalled"), "from memory" },
  { "tight absolute test of memory", change(P, "1e-6,rel,recomputed here", "1e-6,abs,recalled"),
    "from memory" },
  { "repeated point", change(P, "p4,four", "p1,four"), "is repeated" },
  { "a cell too many", change(P, "p4,four", "p4,four,more"), "cells" },
  { "open quote", change(P, 'comma",', "comma,"), "not closed" },
  { "no points column", change(P, "tolerance,mode", "tolerance,way"), "column mode" },
  { "no point at all", extra(P, points), "no row" },
  { "table without source", change(T, "# source: book\n", ""), "# source" },
  { "table without standing", change(T, "# standing: read\n", ""), "# standing" },
  { "table without tolerance", change(T, "# tolerance: 1 %\n", ""), "# tolerance" },
  { "table without reason", change(T, "# reason: as printed\n", ""), "# reason" },
  { "table without units", change(T, "# units: 1\n", ""), "# units" },
  { "table with an empty reason", change(T, "# reason: as printed", "# reason:"), "# reason" },
  { "table of an unknown source", change(T, "# source: book", "# source: rumour"), "rumour" },
  { "table row of an unknown source", change(T, "1,2,book", "1,2,rumour"), "rumour" },
  { "table of an unknown standing", change(T, "# standing: read", "# standing: heard"), "heard" },
  { "material without standing", change(F, "2.6,read", "2.6,"), "standing is missing" },
  { "material of an unknown standing", change(F, "2.6,read", "2.6,heard"), "unknown standing" },
  { "material without source", change(F, "read,book", "read,"), "source is missing" },
  { "material of an unknown source", change(F, "read,book", "read,rumour"), "rumour" },
  { "material without sd", change(F, "0.1,2.4", ",2.4"), "sd is missing" },
  { "material without low", change(F, "2.4,2.6", ",2.6"), "low is missing" },
  { "material without high", change(F, "2.4,2.6", "2.4,"), "high is missing" },
  { "source without title", change("SOURCES.csv", "A book", ""), "title is missing" },
  { "source without place", change("SOURCES.csv", "a shelf", ""), "where is missing" },
  { "source of unknown standing", change("SOURCES.csv", "shelf,read", "shelf,heard"), "heard" },
  { "a cell too many in a source", change("SOURCES.csv", "A book", "A, book"), "cells" },
  { "repeated source", change("SOURCES.csv", "memory,Memory", "book,Memory"), "is repeated" },
  { "a check of no kind", extra("checks/other.csv", "a\n1\n"), "neither" },
}

local embed_faults = {
  { "unknown unit", change(F, "g/cm3", "g/cc"), "fibres.csv:2: density of glass: unknown unit" },
  { "no sd", change(F, "0.1,2.4", ",2.4"), "sd is missing" },
  { "no low", change(F, "2.4,2.6", ",2.6"), "low is missing" },
  { "no high", change(F, "2.4,2.6", "2.4,"), "high is missing" },
  { "no value", change(F, "2.5,g", ",g"), "value is missing" },
  { "value is a word", change(F, "2.5,g", "some,g"), "is not a number" },
  { "value is infinite", change(F, "2.5,g", "1e999,g"), "is not a number" },
  { "value is hexadecimal", change(F, "2.5,g", "0x2,g"), "is not a number" },
  { "negative sd", change(F, "0.1,2.4", "-0.1,2.4"), "sd is negative" },
  { "low above value", change(F, "2.4,2.6", "2.55,2.6"), "low is above" },
  { "value above high", change(F, "2.4,2.6", "2.4,2.45"), "above high" },
  { "no standing", change(F, "2.6,read", "2.6,"), "standing is missing" },
  { "unknown standing", change(F, "2.6,read", "2.6,heard"), "unknown standing" },
  { "no source", change(F, "read,book", "read,"), "source is missing" },
  { "no property", change(F, "density", ""), "property is missing" },
  { "no name", change(F, "glass,a", ",a"), "name is missing" },
  { "no title", change(F, "a fibre", ""), "title is missing" },
  { "repeated property", change(F, "Tg", "Density"), "fibres.csv:3: the property" },
  { "repeated name", change(F, "glass,,,,Tg", "other,o,,,E,1,,0,1,1,read,book\nGlass,g,,,Tg"),
    "is repeated" },
  { "title changes", change(F, "glass,,,,Tg", "glass,b,,,Tg"), "differs from the first row" },
  { "unknown weave", change(C, "plain", "knit"), "unknown weave" },
  { "unknown fibre", change(C, "plain,glass", "plain,straw"), "unknown fibre" },
  { "cloth without fibre", change(C, "plain,glass", "plain,"), "fibre is missing" },
  { "fibre with a weave", change(F, "a fibre,", "a fibre,plain"), "only a cloth" },
  { "other columns", change(F, "weave,fibre", "fibre,weave"), "columns must be" },
  { "a cell too few", change(F, "read,book", "read"), "cells" },
  { "a table of no kind", extra("materials/metals.csv", header), "no kind of material" },
  { "a table without rows", extra("materials/woods.csv", header), "no material at all" },
  { "a table is missing", extra(F, nil), "the table is missing" },
}

local function quoted(text)
  return "'" .. text:gsub("'", "'\\''") .. "'"
end

local function run(command)
  local pipe = assert(io.popen(command .. " 2>&1; echo $?"))
  local text = pipe:read("a")
  pipe:close()
  local said, code = text:match("^(.-)(%d+)\n$")
  return tonumber(code), said
end

local function write_tree(top, tree)
  run(("mkdir -p %s %s"):format(quoted(top .. "/reference-data/checks"),
    quoted(top .. "/reference-data/materials")))
  for file, text in pairs(tree) do
    local f = assert(io.open(top .. "/reference-data/" .. file, "wb"))
    f:write(text)
    f:close()
  end
end

-- Exit code and words of a command on a tree written for it.
local function try(tree, command)
  local top = os.tmpname()
  os.remove(top)
  write_tree(top, tree)
  local code, said = run(command(top))
  run("rm -rf " .. quoted(top))
  return code, said
end

local function with_gate(top)
  return ("lua5.4 %s %s"):format(quoted(gate), quoted(top))
end

local function with_embed(top)
  return ("lua5.4 %s %s %s"):format(quoted(embed), quoted(top .. "/reference-data/materials"),
    quoted(top .. "/out.c"))
end

local bad, tried = 0, 0

local function expect(ok, what, said)
  tried = tried + 1
  if not ok then
    bad = bad + 1
    io.stderr:write(("%s: not as expected\n%s\n"):format(what, said))
  end
end

local function expect_refusal(list, command)
  for _, fault in ipairs(list) do
    local tree = sound()
    fault[2](tree)
    local code, said = try(tree, command)
    expect(code == 1 and said:find(fault[3], 1, true), fault[1], said)
  end
end

local code, said = try(sound(), with_gate)
expect(code == 0 and said == "10 rows, 2 sources\n", "a sound tree", said)
local tree = sound()
change("SOURCES.csv", "memory,Memory", "spare,Spare,here,read,\nmemory,Memory")(tree)
change(T, "# standing: read", "# standing: read; one row computed")(tree)
code, said = try(tree, with_gate)
expect(code == 0 and said:find("\"spare\" is never used", 1, true), "an unused source", said)
expect_refusal(gate_faults, with_gate)

code, said = try(sound(), function(top)
  return with_embed(top) .. " && cat " .. quoted(top .. "/out.c")
end)
for _, row in ipairs {
  '{"density", "kg/m3", 2500.0, 100.0, 2400.0, 2600.0, "read", "book"}',
  '{"Tg", "K", 293.14999999999998, 3.0, 263.14999999999998, 313.14999999999998, "memory", ',
  '{"areal_mass", "kg/m2", 0.20000000000000001, 0.0080000000000000002, 0.17999999999999999, ',
} do
  expect(code == 0 and said:find(row, 1, true), "sound materials", said)
end
expect_refusal(embed_faults, with_embed)

print(("%d of %d as expected"):format(tried - bad, tried))
os.exit(bad == 0 and 0 or 1)
