// A file that one process holds for as long as it lives: how a later one knows that the earlier has ended.
//
// An advisory lock on the open file. The system drops it with the process, however that ended, so that no number of a
// process that may be given again has to be believed.
#pragma once

#include <string>

namespace hitchwright {

class FileLock {
public:
    /// Takes the lock without waiting; the file is made when it is missing.
    explicit FileLock(std::string path);
    ~FileLock();
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;

    /// False: somebody else holds it, or the file cannot be opened or locked at all.
    bool held() const { return descriptor_ >= 0; }
    const std::string& path() const { return path_; }
    /// Takes the file away while it is still held, so that nobody finds a lock without an owner.
    void remove();

private:
    std::string path_;
    int descriptor_ = -1;
};

}  // namespace hitchwright
