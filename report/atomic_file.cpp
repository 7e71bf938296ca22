// See atomic_file.h. POSIX calls are used because the standard library can neither create a file only when it is new
// (before C++23) nor flush one to the disk.
#include "report/atomic_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "report/held_signals.h"

namespace hitchwright {
namespace {

constexpr int attempts_for_a_free_name = 100;
constexpr int most_links = 40;  // as Linux follows

enum class Existing { replaced, kept };

/// Closes its descriptor on every way out.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    int number() const { return number_; }
    bool close() {
        const int number = number_;
        number_ = -1;
        return ::close(number) == 0;
    }

private:
    int number_;
};

FileErrorKind kind_of(int code) {
    switch (code) {
        case EISDIR:
            return FileErrorKind::is_directory;
        case EEXIST:
            return FileErrorKind::exists;
        case ENOENT:
            return FileErrorKind::missing_directory;
        case ENOTDIR:
            return FileErrorKind::not_a_directory;
        case EACCES:
        case EPERM:
        case EROFS:
            return FileErrorKind::not_allowed;
        case ENAMETOOLONG:
        case ELOOP:
        case EINVAL:
            return FileErrorKind::bad_name;
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            return FileErrorKind::no_room;
        default:
            return FileErrorKind::other;
    }
}

std::string reason_of(FileErrorKind kind, int code, const std::string& directory) {
    switch (kind) {
        case FileErrorKind::empty_name:
            return "no file name was given";
        case FileErrorKind::is_directory:
            return "that is a directory; give the name of a file";
        case FileErrorKind::missing_directory:
            return fmt::format("the directory '{}' does not exist", directory);
        case FileErrorKind::not_a_directory:
            return fmt::format("a part of '{}' is a file, not a directory", directory);
        case FileErrorKind::not_allowed:
            return "writing there is not allowed (permissions, or a read-only disk)";
        case FileErrorKind::bad_name:
            return "the name is too long or not a possible file name";
        case FileErrorKind::no_room:
            return "there is no room left on the disk";
        case FileErrorKind::exists:
            return "there is a file of that name";
        case FileErrorKind::other:
            break;
    }
    return std::generic_category().message(code);
}

/// `target`: what `path` leads to.
FileError make_error(const std::string& path, const std::string& target, FileErrorKind kind, int code = 0) {
    const std::string parent = std::filesystem::path(target).parent_path().string();
    return {kind, fmt::format("cannot write '{}': {}", path, reason_of(kind, code, parent.empty() ? "." : parent))};
}

FileError make_error(const std::string& path, FileErrorKind kind) { return make_error(path, path, kind); }

/// 0 when all is written, else errno.
int write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

std::optional<FileError> write_straight(const std::string& path, std::string_view bytes) {
    Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    if (file.number() < 0) return make_file_error(path, errno);
    if (const int code = write_all(file.number(), bytes); code != 0) return make_file_error(path, code);
    return std::nullopt;
}

/// A file name in the same directory that did not exist before; the descriptor is open for writing.
int open_new(const std::string& target, std::string& temporary) {
    for (int attempt = 0; attempt < attempts_for_a_free_name; ++attempt) {
        temporary = fmt::format("{}.part-{}-{}", target, ::getpid(), attempt);
        // 0666 less the umask, as any new file of this user.
        const int descriptor = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (descriptor >= 0 || errno != EEXIST) return descriptor;
    }
    return -1;
}

/// Fills, flushes and closes the temporary file. 0, or errno.
int fill_temporary(Descriptor& file, std::string_view bytes, const struct stat* existing) {
    if (const int code = write_all(file.number(), bytes); code != 0) return code;
    if (existing != nullptr && ::fchmod(file.number(), existing->st_mode & 07777U) != 0) return errno;
    if (::fsync(file.number()) != 0) return errno;
    return file.close() ? 0 : errno;
}

/// Makes the rename itself last. A file system that cannot flush a directory is not an error: the data is written.
void flush_directory(const std::string& target) {
    const std::string parent = std::filesystem::path(target).parent_path().string();
    const Descriptor directory(::open(parent.empty() ? "." : parent.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (directory.number() >= 0) ::fsync(directory.number());
}

/// A name for a file that is there whole, on a file system where a name cannot be taken by a rename that replaces nothing: by a
/// link, and where there are none by writing once more. 0, or errno; EEXIST: the name is taken.
int take_name_otherwise(const std::string& temporary, const std::string& target, std::string_view bytes) {
    if (::link(temporary.c_str(), target.c_str()) == 0) {
        ::unlink(temporary.c_str());  // written it is, second name or not
        return 0;
    }
    Descriptor file(::open(target.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
    if (file.number() < 0) return errno;
    const int code = fill_temporary(file, bytes, nullptr);
    ::unlink(code == 0 ? temporary.c_str() : target.c_str());
    return code;
}

/// Gives the temporary file its name. 0, or errno; then it is still there.
int take_name(const std::string& temporary, const std::string& target, std::string_view bytes, Existing existing) {
    if (existing == Existing::replaced) return std::rename(temporary.c_str(), target.c_str()) == 0 ? 0 : errno;
#if defined(__GLIBC__)
    if (::renameat2(AT_FDCWD, temporary.c_str(), AT_FDCWD, target.c_str(), RENAME_NOREPLACE) == 0) return 0;
    // A disk or a sandbox that does not know the call says so in one of these ways; a link gives the true reason.
    const int code = errno;
    if (code != EINVAL && code != ENOSYS && code != EPERM && code != EOPNOTSUPP) return code;
#endif
    return take_name_otherwise(temporary, target, bytes);
}

/// `old`: the file to be replaced, if there is one.
std::optional<FileError> put_file(const std::string& path, const std::string& target, std::string_view bytes, const struct stat* old,
                                  Existing existing) {
    const HeldSignals held;
    if (old != nullptr && ::access(target.c_str(), W_OK) != 0) return make_file_error(path, errno);
    std::string temporary;
    Descriptor file(open_new(target, temporary));
    if (file.number() < 0) return make_error(path, target, kind_of(errno), errno);
    int code = fill_temporary(file, bytes, old);
    if (code == 0) code = take_name(temporary, target, bytes, existing);
    if (code != 0) {
        ::unlink(temporary.c_str());
        return make_file_error(path, code);
    }
    flush_directory(target);
    return std::nullopt;
}

/// Where the links that `path` begins with lead, though there be nothing.
std::string follow_links(const std::string& path) {
    namespace fs = std::filesystem;
    fs::path target = path;
    std::error_code error;
    for (int i = 0; i < most_links && fs::is_symlink(target, error); ++i) target = target.parent_path() / fs::read_symlink(target, error);
    return target.string();
}

}  // namespace

FileError make_file_error(const std::string& path, int code) { return make_error(path, path, kind_of(code), code); }

std::optional<FileError> write_file_atomically(const std::string& path, std::string_view bytes) {
    if (path.empty()) return make_error(path, FileErrorKind::empty_name);
    if (path.find('\0') != std::string::npos)
        return FileError{FileErrorKind::bad_name, "cannot write a file whose name holds a zero byte"};
    struct stat existing {};
    if (::stat(path.c_str(), &existing) != 0) {
        if (errno != ENOENT) return make_file_error(path, errno);
        if (path.back() == '/') return make_error(path, FileErrorKind::is_directory);
        return put_file(path, follow_links(path), bytes, nullptr, Existing::replaced);
    }
    if (S_ISDIR(existing.st_mode)) return make_error(path, FileErrorKind::is_directory);
    if (S_ISCHR(existing.st_mode) || S_ISFIFO(existing.st_mode)) return write_straight(path, bytes);
    if (!S_ISREG(existing.st_mode)) return make_error(path, FileErrorKind::not_allowed);
    std::error_code failed;
    const std::filesystem::path real = std::filesystem::canonical(path, failed);
    if (failed) return make_file_error(path, failed.value());
    return put_file(path, real.string(), bytes, &existing, Existing::replaced);
}

std::optional<FileError> write_new_file_atomically(const std::string& path, std::string_view bytes) {
    if (path.empty()) return make_error(path, FileErrorKind::empty_name);
    if (path.find('\0') != std::string::npos)
        return FileError{FileErrorKind::bad_name, "cannot write a file whose name holds a zero byte"};
    struct stat existing {};
    if (::lstat(path.c_str(), &existing) == 0) return make_error(path, FileErrorKind::exists);
    if (errno != ENOENT) return make_file_error(path, errno);
    if (path.back() == '/') return make_error(path, FileErrorKind::is_directory);
    return put_file(path, path, bytes, nullptr, Existing::kept);
}

}  // namespace hitchwright
