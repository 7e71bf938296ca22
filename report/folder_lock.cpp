#include "report/folder_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <filesystem>
#include <thread>

namespace hitchwright {
namespace {

// A write takes milliseconds; whoever holds the folder for longer than this hangs.
constexpr int most_attempts = 150;
constexpr std::chrono::milliseconds between_attempts{20};

}  // namespace

FolderLock::FolderLock(const std::string& file) {
    const std::string folder = std::filesystem::path(file).parent_path().string();
    descriptor_ = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor_ < 0) return;
    for (int attempt = 0; attempt < most_attempts; ++attempt) {
        if (::flock(descriptor_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return;
        std::this_thread::sleep_for(between_attempts);
    }
    refused_ = true;
}

FolderLock::~FolderLock() {
    if (descriptor_ >= 0) ::close(descriptor_);
}

}  // namespace hitchwright
