#include "report/file_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <utility>

namespace hitchwright {
namespace {

constexpr unsigned for_me_alone = 0600;

// The name may have been taken away, and given to another file, between opening and locking.
bool still_named(int descriptor, const std::string& path) {
    struct stat open_file {
    }, named{};
    return ::fstat(descriptor, &open_file) == 0 && ::stat(path.c_str(), &named) == 0 &&
           open_file.st_ino == named.st_ino && open_file.st_dev == named.st_dev;
}

}  // namespace

FileLock::FileLock(std::string path) : path_(std::move(path)) {
    const int descriptor = ::open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, for_me_alone);
    if (descriptor < 0) return;
    if (::flock(descriptor, LOCK_EX | LOCK_NB) == 0 && still_named(descriptor, path_))
        descriptor_ = descriptor;
    else
        ::close(descriptor);
}

FileLock::~FileLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

void FileLock::remove() {
    if (descriptor_ < 0) return;
    ::unlink(path_.c_str());
    ::close(descriptor_);
    descriptor_ = -1;
}

}  // namespace hitchwright
