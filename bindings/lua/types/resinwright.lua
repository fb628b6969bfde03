---@meta
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Made by generate.lua from rw.describe(); not to be changed by hand.
-- luacheck: ignore

---@class resinwright
---@field version string version of the library
local rw = {}

---A quantity with its spread: value and sd, or low and high as a 90 % interval.
---@class resinwright.uncertain
---@field value? string|number|resinwright.quantity
---@field sd? string|number|resinwright.quantity
---@field low? string|number|resinwright.quantity
---@field high? string|number|resinwright.quantity

---What a refused call raises.
---@class resinwright.error
---@field code string name of the status, such as "RW_ERR_RANGE"
---@field func? string function that refused
---@field argument? string field, list element or file it is about
---@field value? any what was found
---@field allowed? string what is allowed
---@field line? integer line in a file
---@field column? integer column in a text
---@field message string one sentence
---@field hint? string what to try
---@field where? string place in the script

---A number with its unit.
---@class resinwright.quantity
---@operator add(string|resinwright.quantity): resinwright.quantity
---@operator sub(string|resinwright.quantity): resinwright.quantity
---@operator mul(number|string|resinwright.quantity): resinwright.quantity
---@operator div(number|string|resinwright.quantity): resinwright.quantity
---@operator pow(integer): resinwright.quantity
---@operator unm: resinwright.quantity
local quantity = {}

---A result with its interval, and what most of the spread comes from.
---@class resinwright.range
---@field value resinwright.quantity|number|string best value; of a clock range the time as text
---@field low resinwright.quantity|number|string lower end
---@field high resinwright.quantity|number|string upper end
---@field sd resinwright.quantity|number standard deviation that goes with the interval
---@field level number how often the interval is meant to hold the truth: 0.9
---@field because string|nil what most of the spread comes from
---@field warnings string[] what to know about the result; empty where nothing
---@field clock boolean true where it holds clock times
---@field seconds number|nil clock range: value in seconds since 1970-01-01 00:00
---@field low_seconds number|nil clock range: lower end, likewise
---@field high_seconds number|nil clock range: upper end, likewise
local range = {}

---A quantity from a number and a unit, or from a text that holds both. Quantities add, subtract
---and compare within their dimension, multiply, divide, and take whole powers.
---@param value any a number, or a text with its unit such as "203 g/m2"
---@param unit? string the unit, where value is a number
---@return resinwright.quantity
function rw.q(value, unit) end

---Sets the unit system in which quantities are printed.
---@param system? "metric"|"us" left out: the present one is returned
---@return string|nil
function rw.reader(system) end

---@class resinwright.call.read_datafile
---@field path? string the file to read
---@field text? string its text, where it is not read from a file
---@field name? string what to call it in messages; the path, if left out

---Reads a file of data written as a Lua table. The file cannot call, open or change anything; one
---that runs too long, takes too much memory or holds more than data is refused.
---@param arguments? resinwright.call.read_datafile
---@return table
function rw.read_datafile(arguments) end

---The names of units and what they mean.
---@return {name: string, meaning: string}[]
function rw.units() end

---All functions and types with their fields, kinds, units and descriptions.
---@return table
function rw.describe() end

---What an object of this module is: "quantity", "range", "error" or the name of its type; nil for
---anything else.
---@param x? any anything
---@return string|nil
function rw.kind(x) end

---The number in a unit.
---@param unit string the unit, such as "g/m2"
---@return number
function quantity:to(unit) end

---The number in SI units.
---@return number
function quantity:si() end

---The quantity as text, in the reader's units.
---@param digits? integer significant digits, 1 to 17; default 4
---@return string
function quantity:text(digits) end

---The unit it is printed in.
---@return string
function quantity:unit() end

---The name of its dimension.
---@return string
function quantity:dimension() end

return rw
