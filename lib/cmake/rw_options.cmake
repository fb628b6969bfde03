# SPDX-License-Identifier: GPL-3.0-or-later
option(RW_LUA "build the Lua module" ON)
option(RW_TESTS "build the tests" ON)
option(RW_BENCH "build the comparison of speeds, see scripts/bench" OFF)
option(RW_WERROR "warnings are errors" OFF)
option(RW_SANITIZE "build with ASan and UBSan" OFF)

if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "" FORCE)
endif()
set(CMAKE_C_STANDARD 17)
set(CMAKE_C_STANDARD_REQUIRED ON)
set(CMAKE_C_EXTENSIONS OFF)
set(CMAKE_C_VISIBILITY_PRESET hidden)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
# No contraction: the same input gives the same bits with every compiler.
add_compile_options(-Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes
  -ffp-contract=off $<$<BOOL:${RW_WERROR}>:-Werror>)
add_compile_definitions(_POSIX_C_SOURCE=200809L)
if(RW_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize-recover=all
    -fno-omit-frame-pointer)
  add_link_options(-fsanitize=address,undefined)
endif()
find_package(GSL REQUIRED)
