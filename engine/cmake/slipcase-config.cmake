include(CMakeFindDependencyMacro)
find_dependency(fmt)
find_dependency(yaml-cpp)
find_dependency(Threads)
include(${CMAKE_CURRENT_LIST_DIR}/find_libcsv.cmake)

include(${CMAKE_CURRENT_LIST_DIR}/slipcase-targets.cmake)
