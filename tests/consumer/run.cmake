# Installs into a fresh folder, then builds and runs the project beside this file against it.
#   cmake -D BUILD=... -D SOURCE=... -D COMPILER=... -P run.cmake

set(folder ${BUILD}/consumer)
file(REMOVE_RECURSE ${folder})

function(run)
  execute_process(COMMAND ${ARGN} COMMAND_ERROR_IS_FATAL ANY)
endfunction()

run(${CMAKE_COMMAND} --install ${BUILD} --prefix ${folder}/installed)
run(${CMAKE_COMMAND} -S ${SOURCE} -B ${folder}/build -G Ninja
  -D CMAKE_CXX_COMPILER=${COMPILER} -D CMAKE_PREFIX_PATH=${folder}/installed)
run(${CMAKE_COMMAND} --build ${folder}/build)
run(${folder}/build/consumer)
