// Changes kept against a crash: the edits over a set-up, written after each change and taken away at a clean end.
//
// Each window has a number of its own in the state folder: session-N.lock, which it holds while it lives, and
// session-N.toml with the changes. A session-N.toml whose lock nobody holds was left by a window that ended without
// closing. Two windows never write one file, and one that looks at what was left holds its lock meanwhile.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "gui/edits.h"
#include "report/file_lock.h"

namespace hitchwright {

struct AppState;
struct Problem;

/// The changes of one window.
struct KeptChanges {
    std::string setup;  ///< name, or absolute path
    std::string title;  ///< what the window called it
    std::string draft;  ///< text of a set-up that has no file yet; empty: it has one
    std::string mark;   ///< of the file's text, to tell whether it was changed since (`mark_text`)
    Edits edits;
    bool operator==(const KeptChanges&) const = default;
};

/// A short mark of a text: FNV-1a, 64 bits, in hexadecimal. Tells versions of a file apart; no protection.
std::string mark_text(std::string_view text);

/// The text of the file; what is no UTF-8 (a path may be none) stands in it in hexadecimal.
std::string format_kept_changes(const KeptChanges& changes);
/// None: the text is not one of ours.
std::optional<KeptChanges> parse_kept_changes(std::string_view text);

/// What would be lost now; none: nothing.
std::optional<KeptChanges> find_unsaved(const AppState& app);

/// Changes that a window left, held for this one until it is decided about them.
struct LeftChanges {
    KeptChanges changes;
    bool readable = true;  ///< false: the file is there and cannot be read; `changes` says nothing
    std::string file;
    std::shared_ptr<FileLock> lock;
};

/// What was left in the folder by windows that live no more, oldest number first; files that cannot be read among them.
std::vector<LeftChanges> find_left_changes(const std::string& folder);

/// Opens the set-up of the changes in place of the one shown, whatever that would lose, and puts them over it as one step that can
/// be undone. Problems: the window is as it was.
std::vector<Problem> open_kept_changes(AppState& app, const KeptChanges& changes);

/// The same for changes that were left. Their file stays until they are kept again
/// (`Recovery::follow`). Problems, and changes of this window that are not saved: the window and the file are as they were,
/// and the window says why.
bool take_left_changes(AppState& app, const LeftChanges& left);
/// Takes the file away.
void drop_left_changes(LeftChanges& left);

/// Keeps the changes of this window.
class Recovery {
public:
    /// Takes the first number that is free. An empty folder, or one that cannot be written: nothing is kept, and
    /// `trouble` says so.
    explicit Recovery(const std::string& folder);

    /// Writes what is unsaved when it is not what was written last; nothing unsaved: the file goes. What could not be
    /// written is tried again the next time. Changes taken over from an earlier window are held from now on, and their
    /// file goes once they are written here.
    void follow(AppState& app);
    /// The end of a window that was closed: nothing stays.
    void end();

    const std::string& trouble() const { return trouble_; }
    const std::string& file() const { return file_; }

private:
    void drop_taken();

    std::unique_ptr<FileLock> lock_;
    std::string file_, trouble_;
    std::vector<LeftChanges> taken_;
    std::optional<KeptChanges> written_;
};

}  // namespace hitchwright
