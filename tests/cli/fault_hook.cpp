// Loaded before the program (LD_PRELOAD): lets the n-th call that changes a file fail, or a signal come before or behind it.
//
//   HITCHWRIGHT_FAULT="CALL N WHAT NUMBER"
//
// CALL: open (a new file), write (to a file), fsync, rename, link, unlink; flock; any (of them but flock); naming (rename or
// link). N counts from 1; 0 means every one. WHAT: fail (NUMBER is errno), before or after (NUMBER is a signal). Standard
// streams do not count. HITCHWRIGHT_SECOND_FAULT is one more.
#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include <dlfcn.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

namespace {

struct Fault {
    char call[16] = "none", what[16] = "none";
    int number = -1, value = 0, seen = 0;
};

Fault read_fault(const char* variable) {
    Fault read;
    const char* text = std::getenv(variable);
    if (text != nullptr && std::sscanf(text, "%15s %d %15s %d", read.call, &read.number, read.what, &read.value) != 4) std::abort();
    return read;
}

bool is_meant(const char* meant, const char* name) {
    if (std::strcmp(meant, "any") == 0) return std::strcmp(name, "flock") != 0;
    if (std::strcmp(meant, "naming") == 0) return std::strcmp(name, "rename") == 0 || std::strcmp(name, "link") == 0;
    return std::strcmp(meant, name) == 0;
}

/// What happens at this call; counts it.
struct Due {
    const Fault* faults[2] = {};
};

Due find_due(const char* name) {
    static Fault faults[] = {read_fault("HITCHWRIGHT_FAULT"), read_fault("HITCHWRIGHT_SECOND_FAULT")};
    Due due;
    for (std::size_t i = 0; i < 2; ++i) {
        Fault& f = faults[i];
        if (is_meant(f.call, name) && (++f.seen == f.number || f.number == 0)) due.faults[i] = &f;
    }
    return due;
}

template <class Function>
Function* find_next(const char* name) {
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

void send_at(const Due& due, const char* moment) {
    for (const Fault* f : due.faults) {
        if (f != nullptr && std::strcmp(f->what, moment) == 0) kill(getpid(), f->value);
    }
}

template <class Call>
auto run_call(const char* name, const Call& call) -> decltype(call()) {
    const Due due = find_due(name);
    send_at(due, "before");
    for (const Fault* f : due.faults) {
        if (f == nullptr || std::strcmp(f->what, "fail") != 0) continue;
        errno = f->value;
        return -1;
    }
    const auto result = call();
    const int code = errno;
    send_at(due, "after");
    errno = code;
    return result;
}

bool is_file(int descriptor) {
    struct stat info {};
    return descriptor > STDERR_FILENO && fstat(descriptor, &info) == 0 && S_ISREG(info.st_mode);
}

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    const auto call = [&] { return find_next<int(const char*, int, ...)>("open")(path, flags, mode); };
    return (flags & O_CREAT) != 0 ? run_call("open", call) : call();
}

ssize_t write(int descriptor, const void* bytes, size_t size) {
    const auto call = [&] { return find_next<ssize_t(int, const void*, size_t)>("write")(descriptor, bytes, size); };
    return is_file(descriptor) ? run_call("write", call) : call();
}

ssize_t writev(int descriptor, const iovec* parts, int count) {
    const auto call = [&] { return find_next<ssize_t(int, const iovec*, int)>("writev")(descriptor, parts, count); };
    return is_file(descriptor) ? run_call("write", call) : call();
}

int fsync(int descriptor) {
    return run_call("fsync", [&] { return find_next<int(int)>("fsync")(descriptor); });
}

int rename(const char* from, const char* to) noexcept {
    return run_call("rename", [&] { return find_next<int(const char*, const char*)>("rename")(from, to); });
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) noexcept {
    return run_call("rename", [&] { return find_next<int(int, const char*, int, const char*, unsigned)>("renameat2")(from_folder, from, to_folder, to, flags); });
}

int link(const char* from, const char* to) noexcept {
    return run_call("link", [&] { return find_next<int(const char*, const char*)>("link")(from, to); });
}

int flock(int descriptor, int how) noexcept {
    return run_call("flock", [&] { return find_next<int(int, int)>("flock")(descriptor, how); });
}

int unlink(const char* path) noexcept {
    return run_call("unlink", [&] { return find_next<int(const char*)>("unlink")(path); });
}

}  // extern "C"
