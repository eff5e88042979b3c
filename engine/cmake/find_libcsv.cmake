# libcsv has neither a CMake nor a pkg-config file. It is LGPL: linked as a shared library.
if(NOT TARGET libcsv::libcsv)
  find_path(LIBCSV_INCLUDE_DIR csv.h)
  find_library(LIBCSV_LIBRARY csv)
  if(NOT LIBCSV_INCLUDE_DIR OR NOT LIBCSV_LIBRARY)
    message(FATAL_ERROR "libcsv is missing: Debian's libcsv-dev")
  endif()
  mark_as_advanced(LIBCSV_INCLUDE_DIR LIBCSV_LIBRARY)
  add_library(libcsv::libcsv UNKNOWN IMPORTED)
  set_target_properties(libcsv::libcsv PROPERTIES
    IMPORTED_LOCATION ${LIBCSV_LIBRARY}
    INTERFACE_INCLUDE_DIRECTORIES ${LIBCSV_INCLUDE_DIR})
endif()
