# SPDX-License-Identifier: GPL-3.0-or-later
# One OBJECT library per room. A room sees the headers of the rooms it names, and of no others, so
# an include that points up or sideways does not compile. What rooms share inside the library (wide
# registers, threads) stands in base/src/shared.
set_property(GLOBAL PROPERTY RW_ROOMS "")

function(rw_room name)
  set(dir "${CMAKE_CURRENT_SOURCE_DIR}/${name}")
  file(GLOB sources CONFIGURE_DEPENDS "${dir}/src/*.c")
  add_library(rw_${name} OBJECT ${sources})
  target_include_directories(rw_${name}
    PUBLIC "$<BUILD_INTERFACE:${dir}/include>"
    PRIVATE "${dir}/src" "${CMAKE_CURRENT_SOURCE_DIR}/base/src/shared")
  foreach(below IN LISTS ARGN)
    # Headers only: objects are gathered once, in lib/CMakeLists.txt.
    target_include_directories(rw_${name} PUBLIC
      "$<TARGET_PROPERTY:rw_${below},INTERFACE_INCLUDE_DIRECTORIES>")
  endforeach()
  set_property(GLOBAL APPEND PROPERTY RW_ROOMS ${name})
endfunction()
