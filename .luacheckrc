std = "lua54"
max_line_length = 99
files["tests"] = { allow_defined_top = true, ignore = { "131/Test.*" } } -- as luaunit finds them
