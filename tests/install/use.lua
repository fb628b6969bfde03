-- SPDX-License-Identifier: GPL-3.0-or-later
-- A Lua program that knows the installed module only: arg[1] is the folder it must come from.
local home = arg[1]
local where = assert(package.searchpath("resinwright", package.cpath))
assert(where:sub(1, #home) == home, "another module was found: " .. where)
local rw = require "resinwright"
local fahrenheit = rw.q(21, "degC"):to("degF")
assert(math.abs(fahrenheit - 69.8) < 1e-9, "21 degC became " .. fahrenheit .. " degF")
