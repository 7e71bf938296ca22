#include "cli/prepare_process.h"

#include <csignal>
#include <initializer_list>

#include <fcntl.h>
#if defined(__GLIBC__)
#include <malloc.h>
#endif
#include <unistd.h>

namespace hitchwright {

void prepare_process() {
#if defined(__GLIBC__)
    mallopt(M_TOP_PAD, 1 << 20);  // memory by the megabyte: a second thread would ask for its own by the page
#endif
    for (const int signal : {SIGPIPE, SIGXFSZ}) static_cast<void>(std::signal(signal, SIG_IGN));
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        // The lowest number that is free is given; opened the wrong way round it fails as a closed one does.
        if (::fcntl(stream, F_GETFD) < 0) static_cast<void>(::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY));
    }
}

}  // namespace hitchwright
