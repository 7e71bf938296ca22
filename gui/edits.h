// What the viewer changes about a set-up: the same KEY=VALUE texts that `--set` takes, so that every answer on the
// screen can be had again on the command line.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// Changes over the set-up file.
struct Edits {
    std::vector<std::string> sets;  ///< each "KEY=VALUE", no key twice once edited
    std::string rules;              ///< rule set's name; empty: the set-up's
    bool operator==(const Edits&) const = default;
};

/// The key of a "KEY=VALUE".
std::string_view key_of(std::string_view set);

/// The value set for a key; none when nothing is set. Empty: the file's value is taken away.
std::optional<std::string> find_value(const Edits& edits, std::string_view key);

/// The edits with one value set. It replaces any earlier one of that key.
Edits with_value(Edits edits, std::string_view key, std::string_view value);

/// The key of the field that a key belongs to: "tractor.pto.stub_x" of itself and of what stands beside its value
/// ("tractor.pto.stub_x.value", ".origin", ".tolerance"). A ".note" may be a field of its own.
std::string_view field_of(std::string_view key);

/// The edits with the value of a field, in the form it has there already: with an origin said for it "KEY.value", else
/// "KEY". `origin`: said from now on ("assumed"); empty: what was said stays. Of the two forms only one is left, so that
/// the value always counts. An empty value takes all of it away.
Edits with_field(Edits edits, std::string_view key, std::string_view value, std::string_view origin = {});

/// The edits without the value of a field and what was said beside it.
Edits without_field(Edits edits, std::string_view key);

/// The edits without those whose key begins with `prefix`: the file's own values count again.
Edits without_values(Edits edits, std::string_view prefix);

/// The options that lead from the plain file to these edits, as typed behind the program's name; quoted for a shell.
std::vector<std::string> list_options(const Edits& edits);
/// The same on one line.
std::string join_options(const Edits& edits);

}  // namespace hitchwright
