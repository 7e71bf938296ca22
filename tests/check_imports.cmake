# Fails when a program imports what would let it talk to a network or start another program.
#   cmake -DPROGRAM=binary -DNM=nm -P tests/check_imports.cmake
# Looked at is what the dynamic linker is asked for, so that all of the program's own libraries are covered. wordexp runs a shell.
# syscall is not on the list: the C++ library waits for threads by it, where that is linked in.

cmake_minimum_required(VERSION 3.25)
set(network socket socketpair connect bind listen accept accept4 send sendto sendmsg sendmmsg recv recvfrom recvmsg recvmmsg
    getaddrinfo gethostbyname gethostbyname2 gethostbyaddr res_query res_search)
set(start execl execle execlp execv execve execveat execvp execvpe fexecve fork _Fork vfork clone clone3
    popen system posix_spawn posix_spawnp wordexp)

execute_process(COMMAND "${NM}" -D --undefined-only "${PROGRAM}"
    OUTPUT_VARIABLE listing COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "[^\n]+" lines "${listing}")
set(found "")
set(seen 0)
foreach(line IN LISTS lines)
    # "                 U connect@GLIBC_2.2.5": some write the version, and two underscores before a name mean the same.
    if(line MATCHES "^ *[Uw] ([^@ ]+)")
        math(EXPR seen "${seen} + 1")
        set(symbol "${CMAKE_MATCH_1}")
        string(REGEX REPLACE "^(__libc_|__)" "" name "${symbol}")
        if(name IN_LIST network OR name IN_LIST start)
            string(APPEND found "  ${symbol}\n")
        endif()
    endif()
endforeach()
if(seen LESS 10)
    message(FATAL_ERROR "${PROGRAM}: only ${seen} imports seen, so nothing was checked")
endif()
if(found)
    message(FATAL_ERROR "${PROGRAM} imports:\n${found}")
endif()
message(STATUS "${seen} imports, none of them of a network or of another program")
