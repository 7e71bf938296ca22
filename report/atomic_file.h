// Writing a whole file so that a reader sees the old content or the new, never half of one.
//
// Method: write to a new name in the same directory, flush to the disk, rename over the old file. A link is followed
// first, also one that leads to a file not there yet, so the link stays a link; permissions of an existing file are kept. A
// device or pipe (for example /dev/stdout) cannot be replaced by a rename and is written straight. Ctrl-C waits until the file
// is whole. Errors are values with a sentence a person can act on.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace hitchwright {

/// Why a file could not be written.
enum class FileErrorKind {
    empty_name,         ///< no name was given
    is_directory,       ///< the name is that of a directory
    missing_directory,  ///< the directory to hold the file does not exist
    not_a_directory,    ///< a part of the path that should be a directory is a file
    not_allowed,        ///< no permission, or a read-only file or file system
    bad_name,           ///< the name is too long, holds a zero byte, or its links go in circles
    no_room,            ///< disk or quota full
    exists,             ///< a new file was wanted and there is one of that name
    other               ///< anything else; the sentence carries the system's reason
};

/// A failed write. `message` is one sentence that names the file, without a final full stop.
struct FileError {
    FileErrorKind kind = FileErrorKind::other;
    std::string message;
};

/// Writes `bytes` to the file `path` as a whole. No value: written. A value: nothing was changed at `path`
/// (unless `path` is a device or pipe), and no temporary file is left behind.
std::optional<FileError> write_file_atomically(const std::string& path, std::string_view bytes);

/// The same for a file that must not be there yet, not even as a link: of two that write at once only one does.
std::optional<FileError> write_new_file_atomically(const std::string& path, std::string_view bytes);

/// The error of a file, from errno.
FileError make_file_error(const std::string& path, int code);

}  // namespace hitchwright
