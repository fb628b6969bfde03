-- SPDX-License-Identifier: GPL-3.0-or-later
-- How far long work has come: one line on a terminal that wipes itself, nothing in a pipe.
local progress = {}

-- A function for the fields called progress; nil where nobody looks on.
function progress.bar(what)
  if not os.execute "test -t 2" then
    return nil
  end
  local last = -1
  return function(done, total)
    local share = done * 40 // total
    if share ~= last then
      last = share
      io.stderr:write(("\r[%s%s] %d of %d %s"):format(("="):rep(share), (" "):rep(40 - share),
        done, total, what), done == total and "\r\27[K" or "")
    end
  end
end

return progress
