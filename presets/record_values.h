// New readings for a set-up file: checked, put into its text, and read back. Nothing is written here.
#pragma once

#include <string>
#include <vector>

#include "presets/library.h"
#include "presets/load_setup.h"
#include "presets/problem.h"
#include "presets/source_edit.h"

namespace hitchwright {

/// The name under which problems of a typed KEY=VALUE stand.
inline constexpr const char* record_name = "record";

/// Values typed for a set-up, looked at and not put in.
struct CheckedValues {
    std::vector<KeyValue> values;
    LoadedSetup before;  ///< the set-up as it is
    LoadedSetup with;    ///< with the values, as --set puts them over it
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// What a KEY= with nothing behind it means: a value that was forgotten, or one that is to be taken away.
enum class EmptyValue { refused, taken_away };

/// Whether another machine may be put in. Readings below its table were taken on the machine before, so that it is only ever
/// done where none stand there.
enum class MachineChange { refused, where_no_reading_stands };

/// Refused: a malformed, unknown or repeated key, a value the reader refuses, and what nobody measures. A file whose
/// header or TOML cannot be read is refused with its problems; others of its problems are left to the caller.
CheckedValues check_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                           EmptyValue empty = EmptyValue::refused,
                           MachineChange machines = MachineChange::refused);

/// One value before and after.
struct RecordedValue {
    std::string key;
    std::string typed;  ///< behind the =, without blanks around it
    ValueEdit edit;
    FieldNote before, after;  ///< of the value in effect; `file` empty: nobody gave one
};

/// What is said beside a value: where it comes from.
struct RecordedOrigin {
    std::string key;  ///< of the value
    ValueEdit edit;
    Origin before{}, after{};
};

/// The file afterwards, or all problems.
struct RecordedValues {
    std::string text;  ///< without byte order mark
    std::vector<RecordedValue> values;
    std::vector<RecordedOrigin> origins;  ///< those that the file did not give already
    std::vector<LineChange> lines;
    LoadedSetup before, after;
    std::vector<Problem> problems;

    bool ok() const { return problems.empty(); }
};

/// Puts each "KEY=VALUE" (overrides.h) into the text of a set-up. Refused, besides what `check_values` refuses: an item
/// that is not in the file, anything with which the file would have a problem that it does not have already, and what
/// would make it larger than a file that is read. A value that is taken away becomes a comment; where a file
/// the set-up uses has one as well, that would count again, and it is refused.
/// `beside`: each "KEY.origin=WORD", put beside its value once the values are in, where the file would not give it by itself.
RecordedValues record_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                             EmptyValue empty = EmptyValue::refused,
                             MachineChange machines = MachineChange::refused,
                             const std::vector<std::string>& beside = {});

/// True for "tractor.use", "implement.use" and "driveline.use": which machine it is, no reading.
bool names_machine(std::string_view key);

}  // namespace hitchwright
