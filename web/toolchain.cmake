# Debian's emscripten as it stands: its libraries are built and its cache is frozen, so nothing is written outside the build
# folder, nothing is fetched, and no root is needed.
set(EMSCRIPTEN_ROOT_PATH /usr/share/emscripten)
include("${EMSCRIPTEN_ROOT_PATH}/cmake/Modules/Platform/Emscripten.cmake")

# Letters and data of this machine are built in: files are found where they are. Headers are not: find_path is not used.
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE NEVER)

# libcxx/ has what this libc++ lacks. Nothing of ours throws in the ordinary way, so nothing is caught: an exception ends the
# engine, and the page says so (docs/web.md).
set(CMAKE_CXX_FLAGS_INIT "-isystem \"${CMAKE_CURRENT_LIST_DIR}/libcxx\" \"-ffile-prefix-map=${CMAKE_CURRENT_LIST_DIR}/../=\"")

# The compiler that emscripten would call, with the flags it would give: its own script takes longer to start than many a file
# takes to compile. It links.
execute_process(COMMAND em++ --cflags OUTPUT_VARIABLE web_flags OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
foreach(language C CXX)
    set(CMAKE_${language}_COMPILE_OBJECT
        "/usr/bin/clang-14 ${web_flags} <DEFINES> <INCLUDES> <FLAGS> -o <OBJECT> -c <SOURCE>")
endforeach()
