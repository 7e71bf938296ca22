// One writer at a time in a folder: between looking at a file once more and replacing it nobody else of us steps in.
//
// An advisory lock on the folder itself, so that no file of its own is left behind; it ends with the object, and with
// the process. Other programs do not ask for it: whoever holds it still compares the file with what was read.
#pragma once

#include <string>

namespace hitchwright {

class FolderLock {
public:
    /// Waits a few seconds for the folder of `file`.
    explicit FolderLock(const std::string& file);
    ~FolderLock();
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;

    /// True when somebody else held it all the time. A file system without locks is none of that.
    bool refused() const { return refused_; }

private:
    int descriptor_ = -1;
    bool refused_ = false;
};

}  // namespace hitchwright
