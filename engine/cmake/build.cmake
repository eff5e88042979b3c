# How everything here is compiled, and slipcase_module(), which makes the library of one folder.

set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)

# Here and not in engine/, so that the tests and the program see the targets as well.
find_package(Boost 1.74 REQUIRED)
find_package(fmt 9 REQUIRED)
find_package(nlohmann_json 3.11 REQUIRED)
find_package(yaml-cpp 0.7 REQUIRED)
find_package(Threads REQUIRED)
include(${CMAKE_CURRENT_LIST_DIR}/find_libcsv.cmake)

if(PROJECT_IS_TOP_LEVEL)
  set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
  set(CMAKE_RUNTIME_OUTPUT_DIRECTORY ${PROJECT_BINARY_DIR}/bin)
  set(CMAKE_CXX_FLAGS_RELEASE "-O2 -DNDEBUG")

  # The sanitizer build brings its own optimisation level and keeps assertions.
  if(NOT CMAKE_BUILD_TYPE AND NOT SLIPCASE_SANITIZE)
    set(CMAKE_BUILD_TYPE Release CACHE STRING "Kind of build" FORCE)
  endif()

  find_program(SLIPCASE_CCACHE ccache)
  if(SLIPCASE_CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
    set(CMAKE_CXX_COMPILER_LAUNCHER ${SLIPCASE_CCACHE})
  endif()

  # Headers cost more than what is written below them, so files of one folder are compiled
  # together, twenty at most. Names in unnamed namespaces must then differ within a folder.
  set(CMAKE_UNITY_BUILD ${SLIPCASE_UNITY})
  set(CMAKE_UNITY_BUILD_BATCH_SIZE 20)
endif()

# Files that take half a gigabyte each to compile (the grammar) run two at a time at most.
set_property(GLOBAL APPEND PROPERTY JOB_POOLS slipcase_heavy=2)

# Flags only; linked by every target of ours and never exported.
add_library(slipcase_build INTERFACE)
target_compile_options(slipcase_build INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wold-style-cast
  # The grammar reads as its authors meant it: `a >> b > c`, first the sequence, then what must follow.
  $<$<CXX_COMPILER_ID:Clang>:-Wno-overloaded-shift-op-parentheses>
  $<$<BOOL:${SLIPCASE_WERROR}>:-Werror>)

if(SLIPCASE_SANITIZE)
  target_compile_options(slipcase_build INTERFACE
    -O1 -g1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
    # A fifth of the time to compile, for what the address sanitizer sees as well.
    -fno-sanitize=object-size,vptr)
  target_compile_definitions(slipcase_build INTERFACE _GLIBCXX_ASSERTIONS SLIPCASE_SANITIZED)
  target_link_options(slipcase_build INTERFACE -fsanitize=address,undefined)
endif()
if(SLIPCASE_FUZZ)
  if(NOT CMAKE_CXX_COMPILER_ID STREQUAL "Clang")
    message(FATAL_ERROR "SLIPCASE_FUZZ needs clang++: configure with -DCMAKE_CXX_COMPILER=clang++")
  endif()
  # The fuzzer's own main comes with the targets in tests/fuzz.
  target_link_options(slipcase_build INTERFACE -fsanitize=fuzzer-no-link)
endif()

# clang-tidy reads each file of the target as it is compiled. A copy of the rules that is named after
# its content makes the build notice a change of them.
if(SLIPCASE_TIDY)
  find_program(SLIPCASE_CLANG_TIDY clang-tidy REQUIRED)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/.clang-tidy)
  file(SHA256 ${PROJECT_SOURCE_DIR}/.clang-tidy hash)
  set(SLIPCASE_TIDY_RULES ${PROJECT_BINARY_DIR}/tidy-${hash}.yaml)
  configure_file(${PROJECT_SOURCE_DIR}/.clang-tidy ${SLIPCASE_TIDY_RULES} COPYONLY)
endif()
function(slipcase_tidy target)
  if(SLIPCASE_TIDY)
    set_target_properties(${target} PROPERTIES
      CXX_CLANG_TIDY "${SLIPCASE_CLANG_TIDY};--quiet;--config-file=${SLIPCASE_TIDY_RULES}")
  endif()
endfunction()

# For what takes longer to optimise than to run.
target_compile_options(slipcase_build INTERFACE
  $<$<BOOL:$<TARGET_PROPERTY:SLIPCASE_UNOPTIMISED>>:-O0>)

# Where the tests with sanitizers and the fuzzer spend their time; the other modules only compile longer
# when they are optimised.
set(SLIPCASE_HOT support units facts language evaluation drive network model decision)

# Where the fuzzer is told which branches an input took: what reads and checks it. Numbers have no
# branches worth finding, and telling costs time to compile and to run.
set(SLIPCASE_FUZZED
  support units facts language rulebase profile service grounding evaluation drive api)

# slipcase_module(<folder> SOURCES a.cpp ... [ALONE b.cpp ...] [DEPENDS slipcase_support ...]
#                 [LIBRARIES yaml-cpp ...] [HEAVY])
#
# The static library slipcase_<folder> of engine/<folder>. DEPENDS names modules earlier in the
# pipeline, LIBRARIES third-party targets (fmt comes without asking). ALONE names the sources that
# are compiled by themselves even in a unity build. HEAVY: see slipcase_heavy.
# Modules are internal: their private headers (engine/) are visible to each other and to the tests.
function(slipcase_module folder)
  cmake_parse_arguments(PARSE_ARGV 1 arg "HEAVY" "" "SOURCES;ALONE;DEPENDS;LIBRARIES")
  if(arg_UNPARSED_ARGUMENTS OR NOT arg_SOURCES)
    message(FATAL_ERROR "slipcase_module(${folder}): wants SOURCES; unknown: ${arg_UNPARSED_ARGUMENTS}")
  endif()

  foreach(dependency IN LISTS arg_DEPENDS)
    if(NOT TARGET ${dependency})
      message(FATAL_ERROR "engine/${folder}: ${dependency} is missing or comes later")
    endif()
  endforeach()

  set(target slipcase_${folder})
  add_library(${target} STATIC ${arg_SOURCES})
  add_library(slipcase::${folder} ALIAS ${target})
  target_include_directories(${target} PUBLIC
    ${PROJECT_SOURCE_DIR}/include ${PROJECT_SOURCE_DIR}/engine)
  target_link_libraries(${target}
    PUBLIC ${arg_DEPENDS} fmt::fmt ${arg_LIBRARIES}
    PRIVATE slipcase_build)
  set_target_properties(${target} PROPERTIES POSITION_INDEPENDENT_CODE ON)
  set_source_files_properties(${arg_ALONE} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
  slipcase_tidy(${target})
  if(SLIPCASE_SANITIZE AND NOT folder IN_LIST SLIPCASE_HOT)
    set_target_properties(${target} PROPERTIES SLIPCASE_UNOPTIMISED ON)
  endif()
  if(SLIPCASE_FUZZ AND folder IN_LIST SLIPCASE_FUZZED)
    target_compile_options(${target} PRIVATE -fsanitize=fuzzer-no-link)
  endif()
  if(arg_HEAVY)
    set_target_properties(${target} PROPERTIES JOB_POOL_COMPILE slipcase_heavy)
  endif()
  set_property(GLOBAL APPEND PROPERTY slipcase_modules ${target})
  # What tests/layering holds the #include lines against.
  set_property(GLOBAL PROPERTY ${target}_depends ${arg_DEPENDS})
endfunction()
