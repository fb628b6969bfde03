-- SPDX-License-Identifier: GPL-3.0-or-later
-- Boat files: what is read, and that no text, however hostile, does more than be refused.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestData TestHostile TestFiles

local function read(text)
  return rw.read_datafile { text = text, name = "boat.lua" }
end

local function refused(text, ...)
  local err = support.refused(read, text)
  lu.assertEquals(err.argument, "boat.lua")
  lu.assertStrContains(err.message, "boat.lua")
  for _, word in ipairs { ... } do
    lu.assertStrContains(tostring(err), word)
  end
  return err
end

TestData = {}

function TestData.test_values_come_back_as_they_are()
  local t = read [[
    local station = 0.65
    return {
      name = "invented skiff", length = "4.90 m", ply = 2, share = 0.5, wet = true, dry = false,
      girth = {unit = "mm", 620, 1020, 1290}, at = {station, 2 * station}, [7] = "seven",
      nested = {a = {b = {c = "deep"}}}, bytes = "a\0b", empty = {},
    }]]
  lu.assertEquals(t, {
    name = "invented skiff", length = "4.90 m", ply = 2, share = 0.5, wet = true, dry = false,
    girth = { unit = "mm", 620, 1020, 1290 }, at = { 0.65, 1.3 }, [7] = "seven",
    nested = { a = { b = { c = "deep" } } }, bytes = "a\0b", empty = {},
  })
  lu.assertEquals(math.type(t.ply), "integer")
  lu.assertEquals(math.type(t.share), "float")
  lu.assertNil(getmetatable(t))
end

function TestData.test_plain_lua_may_be_used()
  local t = read "local g = {} for i = 1, 9 do g[i] = i * 100 .. ' mm' end return {girth = g}"
  lu.assertEquals(#t.girth, 9)
  lu.assertEquals(t.girth[9], "900 mm")
  lu.assertEquals(read("\xEF\xBB\xBFreturn {a = 1}").a, 1)
  lu.assertEquals(read("#!/usr/bin/env lua\nreturn {a = 1}").a, 1)
  lu.assertEquals(read("\xEF\xBB\xBF#x\nreturn {a = 1}").a, 1)
  lu.assertEquals(read("local t = {1} return {a = t, b = t}"), { a = { 1 }, b = { 1 } })
end

function TestData.test_limits_are_reached_before_they_refuse()
  local function nest(n) return ("{a = "):rep(n - 1) .. "{}" .. ("}"):rep(n - 1) end
  lu.assertNotNil(read("return " .. nest(12)))
  refused("return " .. nest(13), "12 tables deep")
  local function many(n) return "local t = {} for i = 1, " .. n .. " do t[i] = i end return t" end
  lu.assertEquals(#read(many(20000)), 20000)
  refused(many(20001), "20000 entries")
  lu.assertNotNil(read("local s = 0 for i = 1, 1000000 do s = s + i end return {s}"))
  lu.assertEquals(#read("return {'" .. ("x"):rep(1000000) .. "'}")[1], 1000000)
end

-- The limits of memory and steps, each from both sides.
function TestData.test_room_and_time_for_data()
  local s = ("x"):rep(1000)
  local function texts(n)
    return ("local t, s = {}, '%s' for i = 1, %d do t[i] = s .. i end return {#t}"):format(s, n)
  end
  lu.assertEquals(read(texts(12000)), { 12000 })
  refused(texts(18000), "16 MiB")
  local function steps(n) return ("for i = 1, %d do end return {}"):format(n) end
  lu.assertEquals(read(steps(4900000)), {})
  refused(steps(5100000), "on and on")
end

function TestData.test_line_of_an_error()
  lu.assertEquals(refused("return {\n  a = 1,\n  b = = 2,\n}", "line 3", "comma").line, 3)
  lu.assertEquals(refused("\n\nos.execute('x')", "line 3", "\"os\"", "data only").line, 3)
  lu.assertEquals(refused("local x = 1\nreturn {x = y + 1}", "\"y\"", "quotes").line, 2)
  lu.assertEquals(refused("return {\n name = Sandpiper}", "\"Sandpiper\"", "quotes").line, 2)
  lu.assertEquals(refused("\nwhile true do end", "on and on").line, 2)
  refused("return {\n a = 1\n b = 2}", "line 3")
  refused("return {a = 'x\n'}", "line 1")
  refused("return {", "line 1")
end

function TestData.test_one_table_is_wanted()
  refused("", "returns nothing", "return {")
  refused("local a = 1", "returns nothing")
  refused("return", "returns nothing")
  refused("return nil", "nil")
  refused("return 5", "number")
  refused("return 'x'", "string")
  refused("return {}, {}", "2 values")
  refused("return 1, 2, 3", "3 values")
end

function TestData.test_only_data_comes_back()
  refused("return {f = function() end}", "f is a function")
  refused("return {a = {b = {function() end}}}", "a.b[1] is a function")
  refused("local t = {} t.t = t return t", "circle")
  refused("local a, b = {}, {} a.b = b b.a = a return a", "circle")
  refused("local t = {} t[1] = {t} return {x = t}", "circle")
  refused("return {[1.5] = 1}", "key")
  refused("return {[true] = 1}", "key")
  refused("return {[{}] = 1}", "key")
  refused("return {[function() end] = 1}", "key")
  refused("return {a = {[1/0] = 1}}", "a has a key")
end

TestHostile = {}

function TestHostile.test_nothing_is_there_to_call()
  for _, name in ipairs { "print", "error", "pcall", "xpcall", "load", "loadstring", "dofile",
    "loadfile", "require", "setmetatable", "getmetatable", "rawset", "rawget", "collectgarbage",
    "next", "pairs", "ipairs", "select", "tostring", "tonumber", "type", "assert", "warn" } do
    refused(("return {%s({})}"):format(name), '"' .. name .. '"', "data only")
    refused(("%s = %s() return {}"):format(name, name), '"' .. name .. '"')
  end
  for _, name in ipairs { "os", "io", "string", "table", "math", "debug", "package", "coroutine",
    "utf8", "rw", "_G" } do
    refused(("return {%s.x}"):format(name), '"' .. name .. '"', "data only")
    refused(("%s.exit(1) return {}"):format(name), '"' .. name .. '"')
  end
  refused("return {('x'):rep(1e9)}", "not available")
  refused("local s = 'x' return {s:rep(1e9)}", "not available")
  refused("return {#5}", "worked out")
  refused("return {1 < 'x'}", "worked out")
  refused("return {{} .. 'x'}", "worked out")
  refused("return {1 // 0}", "worked out")
  refused("local x <close> = {} return {}", "worked out")
  refused("return {(...).x}", "worked out")
end

function TestHostile.test_the_caller_cannot_be_reached()
  _ENV.boat_probe = "untouched"
  read "boat_probe = 'touched' return {}"
  lu.assertEquals(_ENV.boat_probe, "untouched")
  refused("return {_ENV._G}", "\"_G\"")
  read "_ENV = nil return {}"
  refused("_ENV = nil x = 1 return {}", "worked out")
  lu.assertEquals(read("x = 1 return {x}")[1], 1)
  refused("return {x}", "\"x\"")
end

function TestHostile.test_loops_end()
  for _, text in ipairs {
    "while true do end", "::a:: goto a", "repeat until false", "for i = 1, 1e18 do end",
    "local function f() return f() end return f()",
    "local i = 0 ::a:: i = i + 1 if i then goto a end",
    "local t = {} while true do t = {} end", "local t = {} while true do t[1] = {} end",
    "while true do local f = function() end end", "for i = 1, 0 do end while 1 do end",
    "local s = '" .. ("x"):rep(60000) .. "' while true do local t = s .. 'y' end",
    "local a, b = '" .. ("x"):rep(500000) .. "', '" .. ("x"):rep(499999) .. "y' "
      .. "while true do local c = a < b end",
  } do
    refused(text, "on and on")
  end
end

function TestHostile.test_memory_is_bounded()
  for _, text in ipairs {
    "local s = 'x' while true do s = s .. s end", "local t = {} for i = 1, 1e9 do t[i] = {} end",
    "local t = {} for i = 1, 1e9 do t[i] = i .. 'x' end",
    "local t = {} while true do t = {t, t, t} end",
    "local f for i = 1, 1e9 do local g = f f = function() return g end end",
    "local t = {} for i = 1, 1e9 do t[i] = 'x" .. ("y"):rep(5000) .. "' .. i end",
  } do
    local err = refused(text)
    -- Where each step takes long, the time is up before the memory is.
    lu.assertTrue(err.message:find "16 MiB" ~= nil or err.message:find "on and on" ~= nil)
  end
  local text = "local s = 'x' for i = 1, 19 do s = s .. s end "
  refused(text .. "return {s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, s, "
    .. "s, s, s, s, s, s, s, s, s, s, s}", "16 MiB")
end

function TestHostile.test_depth_is_bounded()
  refused("local function f() return 1 + f() end return f()")
  refused("local function f(...) return f(1, ...) + 1 end return f()")
  refused("local function f() local a <const> = f() return a end return f()")
  refused("return " .. ("{"):rep(100000))
  refused("return " .. ("("):rep(100000))
  refused("return " .. ("not "):rep(100000) .. "1")
  refused("return " .. ("-"):rep(1) .. (" -"):rep(100000) .. "1")
  refused("return " .. ("'a' .. "):rep(100000) .. "'b'")
  refused(("do "):rep(100000))
  refused(("function f() "):rep(100000))
  refused("return {" .. ("a."):rep(100000) .. "b}")
end

function TestHostile.test_the_parser_is_bounded()
  local function many(pattern, n)
    local list = {}
    for i = 1, n do
      list[i] = pattern:format(i)
    end
    return table.concat(list)
  end
  refused(many("local a%d = 1\n", 300))
  refused(many("goto a%d\n", 40000))
  refused(many("::a%d:: ", 40000))
  refused("return {" .. ("x"):rep(2000000) .. "}", "1 MiB")
  refused(("-"):rep(1100000), "1 MiB")
  refused("return {'" .. ("\\"):rep(1000) .. "}")
  refused("--[" .. ("="):rep(500000) .. "[")
  refused("return {" .. ("9"):rep(900000) .. "x}")
  lu.assertNotNil(read("return {" .. ("9"):rep(900000) .. "}"))
  lu.assertNotNil(read("return {" .. ("1,"):rep(20000) .. "}"))
end

function TestHostile.test_bytes()
  refused(string.dump(function() end), "compiled")
  refused("\27Lua", "compiled")
  refused("\27", "compiled")
  refused("\0", "line 1")
  refused("return {\0}", "line 1")
  refused("return {\1\2\3\27[31m}", "line 1")
  refused("\xFF\xFE", "line 1")
  refused("\xEF\xBB\xBF\27Lua", "compiled")
  refused("return {['a\\nb\\0\\27'] = function() end}", "function")
  refused("return {['" .. ("x"):rep(100000) .. "'] = function() end}", "function")
end

-- Any cut or changed byte of a good file is read or refused, nothing else.
function TestHostile.test_damaged_files()
  local good = "local k = 3\nreturn {name = 'a', girth = {unit = 'mm', 520, 905}, x = k * 2}\n"
  for i = 1, #good do
    for _, text in ipairs { good:sub(1, i), good:sub(1, i - 1) .. good:sub(i + 1),
      good:sub(1, i - 1) .. "\0" .. good:sub(i + 1), good:sub(1, i - 1) .. "{" .. good:sub(i + 1) }
    do
      local ok, result = pcall(read, text)
      if ok then
        lu.assertEquals(type(result), "table")
      else
        lu.assertEquals(result.argument, "boat.lua", text)
      end
    end
  end
end

function TestHostile.test_names_of_files_are_only_names()
  local err = support.refused(rw.read_datafile, { text = "return 1", name = "a:5: b\n%s%d\0x" })
  lu.assertStrContains(err.message, "a:5: b %s%d")
  support.refused(rw.read_datafile, { text = "return 1", name = ("x"):rep(100000) })
  support.refused(rw.read_datafile, { text = "x", name = "" })
end

TestFiles = {}

local function with_file(text, check)
  local path = os.tmpname()
  local file = assert(io.open(path, "wb"))
  file:write(text)
  file:close()
  local ok, err = pcall(check, path)
  os.remove(path)
  if not ok then
    error(err, 0)
  end
end

function TestFiles.test_reads_a_file()
  with_file("return {a = 1}", function(path)
    lu.assertEquals(rw.read_datafile { path = path }, { a = 1 })
  end)
  with_file("return {a = }", function(path)
    local err = support.refused(rw.read_datafile, { path = path })
    lu.assertStrContains(err.message, path)
    lu.assertEquals(err.line, 1)
    err = support.refused(rw.read_datafile, { path = path, name = "skiff" })
    lu.assertStrContains(err.message, "skiff, line 1")
  end)
end

function TestFiles.test_refuses_files_that_are_none()
  support.refused(rw.read_datafile, { path = "no/such/file.lua" })
  support.refused(rw.read_datafile, { path = "." })
  support.refused(rw.read_datafile, { path = "" })
  support.refused(rw.read_datafile, {})
  support.refused(rw.read_datafile, { path = "x", text = "y" })
  with_file("return {}" .. (" "):rep(1 << 20), function(path)
    lu.assertEquals(support.refused(rw.read_datafile, { path = path }).code, "RW_ERR_RANGE")
  end)
end

os.exit(lu.LuaUnit.run(), true)
