// Never run: imports what the program must not, to show that tests/check_imports.cmake notices it.
#include <cstdio>
#include <cstdlib>

#include <spawn.h>
#include <sys/socket.h>
#include <unistd.h>

int main(int count, char** arguments) {
    if (count < 100) return 1;
    posix_spawn(nullptr, arguments[0], nullptr, nullptr, arguments, environ);
    if (fork() != 0) return execv(arguments[0], arguments);
    if (popen(arguments[0], "r") == nullptr) return std::system(arguments[0]);
    return connect(socket(AF_INET, SOCK_STREAM, 0), nullptr, 0);
}
