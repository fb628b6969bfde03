-- SPDX-License-Identifier: GPL-3.0-or-later
-- A refusal of the library, said again in the words of whoever asked: the fields of a file, the
-- options of a command line.
local refusal = {}

-- Calls; where that is refused, raises again with what reword(message, hint) makes of it. Other
-- errors pass as they are.
function refusal.reworded(reword, call, ...)
  local results = table.pack(pcall(call, ...))
  if results[1] then
    return table.unpack(results, 2, results.n)
  end
  local err = results[2]
  if type(err) ~= "table" or not err.message then
    error(err, 0)
  end
  local message, hint = reword(err.message, err.hint)
  error({ message = message, hint = hint }, 0)
end

return refusal
