# SPDX-License-Identifier: GPL-3.0-or-later
# The CMake package and the pkg-config file, both relocatable.
include(CMakePackageConfigHelpers)
install(EXPORT resinwright NAMESPACE resinwright:: FILE resinwright-targets.cmake
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/resinwright)
write_basic_package_version_file("${CMAKE_CURRENT_BINARY_DIR}/resinwright-config-version.cmake"
  COMPATIBILITY SameMinorVersion)
file(WRITE "${CMAKE_CURRENT_BINARY_DIR}/resinwright-config.cmake"
  "include(\"\${CMAKE_CURRENT_LIST_DIR}/resinwright-targets.cmake\")\n")
install(FILES "${CMAKE_CURRENT_BINARY_DIR}/resinwright-config.cmake"
              "${CMAKE_CURRENT_BINARY_DIR}/resinwright-config-version.cmake"
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/resinwright)
file(RELATIVE_PATH up "/${CMAKE_INSTALL_LIBDIR}/pkgconfig" "/")
file(WRITE "${CMAKE_CURRENT_BINARY_DIR}/resinwright.pc"
"prefix=\${pcfiledir}/${up}
includedir=\${prefix}/${CMAKE_INSTALL_INCLUDEDIR}
libdir=\${prefix}/${CMAKE_INSTALL_LIBDIR}

Name: resinwright
Description: ${PROJECT_DESCRIPTION}
Version: ${PROJECT_VERSION}
Requires.private: gsl
Libs: -L\${libdir} -lresinwright
Cflags: -I\${includedir}
")
install(FILES "${CMAKE_CURRENT_BINARY_DIR}/resinwright.pc"
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
