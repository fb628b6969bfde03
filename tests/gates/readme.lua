-- SPDX-License-Identifier: GPL-3.0-or-later
-- Runs the ```lua blocks of a page; where the next block is a ```text one, its content must
-- be printed, byte for byte. Files named in ```sh blocks must exist.
--   lua5.4 tests/gates/readme.lua [--need] PAGE     --need: a page without an example is a fault
local need = arg[1] == "--need"
local path = arg[need and 2 or 1]
local page <close> = assert(io.open(path))

local blocks, open = {}, nil
local number = 0
for line in page:lines() do
  number = number + 1
  local kind = line:match("^```(%w*)%s*$")
  if open and kind == "" then
    blocks[#blocks + 1] = open
    open = nil
  elseif open then
    open.lines[#open.lines + 1] = line
  elseif kind then
    open = { kind = kind, line = number, lines = {} }
  end
end
assert(not open, path .. ": a block is not closed")

local faults, examples, commands = 0, 0, 0
local function fault(line, text)
  faults = faults + 1
  print(("%s:%d: %s"):format(path, line, text))
end

local function run(block)
  local name = os.tmpname()
  local file = assert(io.open(name, "w"))
  file:write(table.concat(block.lines, "\n"), "\n")
  file:close()
  local pipe = assert(io.popen("lua5.4 '" .. name .. "' 2>&1"))
  local output = pipe:read("a")
  local ok = pipe:close()
  os.remove(name)
  return output, ok
end

local function exists(name)
  local file = io.open(name)
  return file and file:close()
end

for i, block in ipairs(blocks) do
  local next_block = blocks[i + 1]
  if block.kind == "lua" then
    local output, ok = run(block)
    if not ok then
      fault(block.line, "the example fails:\n" .. output)
    elseif next_block and next_block.kind == "text" then
      examples = examples + 1
      local wanted = table.concat(next_block.lines, "\n") .. "\n"
      if output ~= wanted then
        fault(block.line, "the example prints\n" .. output .. "and the page says\n" .. wanted)
      end
    end
  elseif block.kind == "sh" then
    for _, line in ipairs(block.lines) do
      for word in line:gsub("#.*", ""):gmatch("%S+") do
        if word:match("^%.?/?scripts/") or word:match("^tests/") then
          commands = commands + 1
          if not exists(word) then
            fault(block.line, word .. " does not exist")
          end
        end
      end
    end
  end
end
if need and (examples == 0 or commands == 0) then
  fault(1, ("%d examples with output and %d commands found"):format(examples, commands))
end
print(("%s: %d examples, %d commands, %d faults"):format(path, examples, commands, faults))
os.exit(faults == 0)
