# Installs a build into PREFIX, which is made anew, and makes room for it to be moved to MOVED.
#   cmake -DBUILD=folder -DPREFIX=folder -DMOVED=folder -P install.cmake
cmake_minimum_required(VERSION 3.25)
file(REMOVE_RECURSE "${PREFIX}" "${MOVED}")
cmake_path(GET MOVED PARENT_PATH above)
file(MAKE_DIRECTORY "${above}")
execute_process(COMMAND "${CMAKE_COMMAND}" --install "${BUILD}" --prefix "${PREFIX}"
    OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
