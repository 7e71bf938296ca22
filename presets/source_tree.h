// What was typed, as a tree of values with their places: the common form of a TOML file and of `--set`.
//
// The field reader works on this tree only, so that it does not depend on the TOML library and reads a
// file and the command line by the same rules. Lines and columns count from 1, columns in characters.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/reading.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// What stands at a node.
enum class SourceKind {
    text,
    number,
    whole,
    flag,
    moment,   ///< a date or time, which no field takes
    list,
    table,
    by_name,  ///< `--set` only: members are named items of a list
    removed   ///< `--set key=`: the value is taken away
};

/// One value with its place.
struct SourceNode {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(SourceNode);
    SourceKind kind = SourceKind::table;
    std::string key;    ///< under which it stands in its table; empty for list items and the root
    std::string typed;  ///< a text's content; the characters of a number, flag or date
    double number = 0.0;          ///< number and whole
    std::int64_t whole = 0;       ///< whole only
    bool flag = false;            ///< flag only
    std::vector<SourceNode> members;  ///< table: by position in the file; list: the items in order
    int line = 0, column = 0;         ///< where the value begins
    int key_line = 0, key_column = 0;

    /// The member of that name, or null.
    const SourceNode* find(std::string_view name) const {
        for (const SourceNode& member : members) {
            if (member.key == name) {
                return &member;
            }
        }
        return nullptr;
    }
};

/// What holds for all values of one file.
struct SourceFile {
    std::string name;  ///< as it stands in problems
    std::string unit;  ///< of bare lengths; empty: the file states none
    Origin origin = Origin::measured;  ///< of values that state none
    bool command_line = false;         ///< values of `--set`: everything is text
};

/// "a text", "a table" ... for sentences.
std::string_view kind_name(SourceKind kind);

}  // namespace hitchwright
