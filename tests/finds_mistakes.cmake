# A check that finds nothing may be blind. So each is also run on a small tree full of mistakes, and
# must print exactly these and fail:
#   cmake -D EXPECTED=FILE -P finds_mistakes.cmake -- COMMAND...

set(command)
set(seen FALSE)
foreach(index RANGE 1 ${CMAKE_ARGC})
  if(seen)
    list(APPEND command "${CMAKE_ARGV${index}}")
  elseif(CMAKE_ARGV${index} STREQUAL "--")
    set(seen TRUE)
  endif()
endforeach()

execute_process(COMMAND ${command} OUTPUT_VARIABLE output RESULT_VARIABLE code)
file(READ ${EXPECTED} expected)
if(NOT output STREQUAL expected OR NOT code EQUAL 1)
  message(FATAL_ERROR "exit code ${code}, expected:\n${expected}\nprinted:\n${output}")
endif()
